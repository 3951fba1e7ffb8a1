/** A recording of the evaluation, decoded and heard; reads its file and takes the time. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { decodeRecording } from '../../src/audio/decode.js';
import type { Recording } from '../../src/audio/types.js';
import { NoMelodyError } from '../../src/errors.js';
import { notesOf } from '../../src/notes/notes-of.js';
import { hear } from '../../src/pipeline/hear.js';
import { defaultHearOptions, type HearRequest } from '../../src/pipeline/options.js';
import { load, type Network } from '../../src/pitch/network/session.js';
import { trackContours } from '../baseline/contours.js';
import type { EvaluateRequest } from './arguments.js';
import type { Case } from './cases.js';
import { type Hearing, nothingHeard } from './evaluate.js';
import { karaokeMix } from './karaoke.js';

type Asked = Pick<EvaluateRequest, 'source' | 'tracker' | 'folds'>;
type Melody = Pick<Hearing, 'taken' | 'track' | 'heard'>;

/** Decodes and hears a recording as asked for. The networks' loading is in the time of the first one. */
export async function listen(known: Case, asked: Asked): Promise<Hearing> {
  const source = asked.source ?? known.source;
  const bytes = readFileSync(known.path);
  const network = await foldNetwork(known, asked.folds);
  const begun = performance.now();
  const recording = await recordingOf(known, bytes, source);
  const decoded = performance.now();
  const melody =
    source === 'mix' && asked.tracker === 'contours'
      ? await hearContours(recording)
      : await hearOwn(recording, source, network);
  const done = performance.now();
  return {
    ...melody,
    seconds: secondsOf(recording),
    decodeSeconds: (decoded - begun) / 1000,
    hearSeconds: (done - decoded) / 1000,
  };
}

function secondsOf({ samples, sampleRate }: Recording): number {
  return samples.length / sampleRate;
}

async function recordingOf(
  known: Case,
  bytes: Uint8Array,
  source: HearRequest['source'],
): Promise<Recording> {
  if (known.voiceLevel === null) return decodeRecording(bytes, known.path, { side: source !== 'solo' });
  return karaokeMix(await decodeRecording(bytes, known.path, { side: true }), known.voiceLevel);
}

async function hearOwn(
  recording: Recording,
  source: HearRequest['source'],
  network?: Network,
): Promise<Melody> {
  try {
    const request = { source, lowestMidi: null, highestMidi: null };
    const { heardAs, track, heard } = await hear(recording, request, network);
    return { taken: heardAs.source, track, heard };
  } catch (error) {
    // A recording in which nothing is found scores 0: left out, it would lift the mean.
    if (error instanceof NoMelodyError) return { ...nothingHeard(secondsOf(recording)), taken: null };
    throw error;
  }
}

async function hearContours(recording: Recording): Promise<Melody> {
  const track = await trackContours(recording, defaultHearOptions('mix'));
  return { taken: 'mix', track, heard: notesOf(track, secondsOf(recording)) };
}

const loaded = new Map<string, Promise<Network>>();

/** The solo network that never saw the recording, of those in the folder; undefined: the program's own. */
async function foldNetwork({ fold }: Case, folder: string | null): Promise<Network | undefined> {
  if (folder === null || fold === null) return undefined;
  const path = join(folder, `solo-${fold}.onnx`);
  const network = loaded.get(path) ?? load(path, () => import('onnxruntime-node'));
  loaded.set(path, network);
  return network;
}
