/** An attempt played on the computed piano of the fixtures, written as WAV, and heard as the program hears it. */
import { gainOfDb } from '../../../fixtures/maker/levels.js';
import { renderPiano } from '../../../fixtures/maker/piano.js';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { record } from '../../../fixtures/maker/room.js';
import { decodeRecording } from '../../../src/audio/decode.js';
import { ANALYSIS_RATE } from '../../../src/audio/types.js';
import { encodeWav } from '../../../src/audio/write-wav.js';
import { hear } from '../../../src/pipeline/hear.js';
import type { Side } from '../../../src/practice/compare/types.js';
import { noteName } from '../../../src/theory/pitch-names.js';
import type { Attempt } from './attempts.js';

/** A phone on a piano: room noise, and a level below full scale. */
const NOISE_DB = -55;
const QUIETER_DB = -9;
const TAIL_SECONDS = 0.8;

export async function heardSide(attempt: Attempt, seed: number): Promise<Side> {
  return sideHeardIn(pianoWav(attempt, seed), attempt.song.name);
}

function pianoWav({ notes }: Attempt, seed: number): Uint8Array {
  const random = seededRandom(seed);
  const seconds = notes.at(-1)!.end + TAIL_SECONDS;
  const score = notes.map(({ start, end, midi }) => ({ start, end, midi, line: 0 }));
  const { samples } = renderPiano(score, 0, ANALYSIS_RATE, seconds, random);
  const [mono] = record(samples, ANALYSIS_RATE, 1, NOISE_DB, random);
  const gain = gainOfDb(QUIETER_DB);
  return encodeWav([Float32Array.from(mono!, (value) => gain * value)], ANALYSIS_RATE);
}

/** What the program hears in the recording of an attempt: of a solo, as `compare` takes it. */
async function sideHeardIn(bytes: Uint8Array, label: string): Promise<Side> {
  const recording = await decodeRecording(bytes, label, { side: true });
  const { heard } = await hear(recording, { source: 'solo', lowestMidi: null, highestMidi: null });
  return {
    heard: true,
    tuningCents: heard.tuningCents,
    notes: heard.notes.map((note) => ({ ...note, name: noteName(note.midi), line: 1 })),
  };
}
