/** What `npm run train` was asked for. */
import { parseArgs } from 'node:util';

export const USAGE = 'npm run train -- DIR [--more DIR …] [--out FILE] [--epochs N] [--seed N]';

export interface TrainRequest {
  readonly root: string;
  readonly more: readonly string[];
  /** Null: standard output. */
  readonly out: string | null;
  readonly epochs: number;
  readonly seed: number;
}

const MOST_EPOCHS = 1000;
const LARGEST_SEED = 2 ** 31 - 1;

/** Throws an Error with one sentence for a request that cannot be met. */
export function parseRequest(argv: readonly string[]): TrainRequest {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      more: { type: 'string', multiple: true, default: [] },
      out: { type: 'string' },
      epochs: { type: 'string', default: '16' },
      seed: { type: 'string', default: '1' },
    },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1) throw new Error(`Give one folder: ${USAGE}`);
  return {
    root,
    more: values.more,
    out: values.out ?? null,
    epochs: whole('--epochs', values.epochs, 1, MOST_EPOCHS),
    seed: whole('--seed', values.seed, 0, LARGEST_SEED),
  };
}

/** A whole number in a range, or an Error that says which. */
export function whole(option: string, text: string, lowest: number, highest: number): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= lowest && value <= highest)) {
    throw new Error(`${option} is a whole number from ${lowest} to ${highest}, not ${text}.`);
  }
  return value;
}
