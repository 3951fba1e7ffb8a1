import { fileURLToPath } from 'node:url';
import { UsageError } from '../../errors.js';

/** The networks whose weights lie beside this file. */
export type NetworkName = 'mix-look' | 'mix-listen' | 'solo';

/** Numbers in the order of the last dimension first. */
export interface Numbers {
  readonly data: Float32Array;
  readonly dimensions: readonly number[];
}

/** A network that is ready to run. */
export interface Network {
  /** Named inputs → named outputs. The same inputs give the same outputs. */
  run(inputs: Readonly<Record<string, Numbers>>): Promise<Readonly<Record<string, Float32Array>>>;
}

const loading = new Map<NetworkName, Promise<Network>>();

/**
 * Loads a network, once a process. The engine (onnxruntime) is imported only here, so that whatever needs no
 * network starts without it. One thread: a folder of recordings is shared out by recording.
 *
 * @throws UsageError where the engine doesn't start on this system, or the weights cannot be read.
 */
export function loadNetwork(name: NetworkName): Promise<Network> {
  let network = loading.get(name);
  if (network === undefined) {
    const path = fileURLToPath(new URL(`./weights/${name}.onnx`, import.meta.url));
    network = load(path, () => import('onnxruntime-node'));
    loading.set(name, network);
  }
  return network;
}

/** What is used of the engine, whose package declares no types. */
export interface Engine {
  readonly Tensor: new (type: 'float32', data: Float32Array, dimensions: readonly number[]) => Tensor;
  readonly InferenceSession: {
    create(
      weights: string | Uint8Array,
      options?: Readonly<Record<string, number | boolean>>,
    ): Promise<InferenceSession>;
  };
}

interface Tensor {
  readonly data: unknown;
  readonly dims: readonly number[];
}

interface InferenceSession {
  run(feeds: Readonly<Record<string, Tensor>>): Promise<Readonly<Record<string, Tensor>>>;
}

/** Loads a network anew from the file of its weights, with the engine that `start` gives. */
export async function load(path: string, start: () => Promise<Engine>): Promise<Network> {
  let engine: Engine;
  try {
    engine = await start();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_MODULE_NOT_FOUND') {
      throw new UsageError(
        'the engine of the networks that find the voice, onnxruntime-node, is not installed: install cantilena again.',
      );
    }
    throw new UsageError(
      `the engine of the networks that find the voice, onnxruntime-node, doesn't start here (${process.platform} ` +
        `${process.arch}: ${firstLine(error)}): install cantilena again, on Linux, Windows or macOS.`,
    );
  }
  let session: InferenceSession;
  try {
    session = await engine.InferenceSession.create(path, {
      intraOpNumThreads: 1,
      interOpNumThreads: 1,
      // A plan of where every value lies would be made for each shape of input, and costs 38 MB with the mix's.
      enableMemPattern: false,
    });
  } catch (error) {
    throw new UsageError(
      `the weights of a network, ${path}, cannot be read (${firstLine(error)}): install the program again.`,
    );
  }
  return {
    async run(inputs) {
      const feeds: Record<string, Tensor> = {};
      for (const [key, { data, dimensions }] of Object.entries(inputs)) {
        feeds[key] = new engine.Tensor('float32', data, dimensions);
      }
      const outputs = await session.run(feeds);
      return Object.fromEntries(Object.entries(outputs).map(([key, t]) => [key, t.data as Float32Array]));
    },
  };
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).split('\n')[0];
}
