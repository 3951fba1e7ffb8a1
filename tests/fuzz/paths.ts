/** The ways into the program that are tried, and what may come out of them. */

import * as fs from 'node:fs';
import { Readable, Writable } from 'node:stream';
import { type Random, seededRandom } from '../../fixtures/maker/random.js';
import { decodeRecording } from '../../src/audio/decode.js';
import { main } from '../../src/cli/main.js';
import { CantilenaError } from '../../src/errors.js';
import { recogniseInput } from '../../src/pipeline/read-input.js';
import { unpacked } from '../dsp/unpacked.js';
import type { Bases } from './bases.js';
import { adtsLie, flacLie, id3Lie, mp3Lie, mp4Lie, oggLie, wavLie } from './lies.js';
import { below, damage, type Mutation } from './mutate.js';
import { arbitraryJson, arbitraryList, arbitraryMidi, jsonDamage, textDamage } from './texts.js';

interface Path {
  readonly kind: string;
  readonly mutations: readonly Mutation[];
  /** Throws a CantilenaError for what cannot be read; gives back what is wrong with the value, or null. */
  readonly read: (bytes: Uint8Array) => Promise<string | null>;
}

const LABEL = 'memo';

async function decoded(bytes: Uint8Array): Promise<string | null> {
  const { samples, side, source } = await decodeRecording(bytes, LABEL, { side: true });
  for (const signal of [samples, side ? unpacked(side) : samples]) {
    if (signal.length !== samples.length)
      return `a side of ${signal.length} beside ${samples.length} samples`;
    const odd = signal.find((value) => !(Math.abs(value) <= 1));
    if (odd !== undefined) return `a sample of ${odd}`;
  }
  return source.warnings.every(isSentence) ? null : `a warning: ${source.warnings.join(' | ')}`;
}

async function read(bytes: Uint8Array): Promise<string | null> {
  const input = await recogniseInput({ bytes, label: LABEL });
  if (input.kind === 'recording') return null;
  const { notes, seconds } = input.read;
  const wrong = notes.findIndex(
    ({ start, end, midi }, i) =>
      !(start >= 0 && end > start && end <= seconds && Number.isFinite(seconds)) ||
      !(Number.isInteger(midi) && midi >= 0 && midi <= 127) ||
      (i > 0 && notes[i - 1]!.end > start),
  );
  return wrong < 0 ? null : `note ${wrong}: ${JSON.stringify(notes[wrong])}`;
}

/** The whole program, from standard input to JSON: what was read is measured and written too. */
async function run(bytes: Uint8Array): Promise<string | null> {
  const heard: Buffer[] = [];
  const sink = (parts: Buffer[]) =>
    new Writable({
      write(part: Buffer, _encoding, done) {
        parts.push(part);
        done();
      },
    });
  const said: Buffer[] = [];
  const streams = { stdin: Readable.from([Buffer.from(bytes)]), stdout: sink(heard), stderr: sink(said) };
  const status = await main({ argv: ['notes', '-', '--json', '--quiet'], env: {}, streams, fs });
  const words = Buffer.concat(said).toString();
  if (![0, 3, 4].includes(status)) return `status ${status}: ${words}`;
  if (status !== 0) return isSentence(words.trimEnd()) ? null : `words: ${words}`;
  JSON.parse(Buffer.concat(heard).toString());
  return null;
}

/** Text and MIDI alone: what is taken for sound would be heard, which takes long. */
async function runNotes(bytes: Uint8Array): Promise<string | null> {
  const input = await recogniseInput({ bytes, label: LABEL });
  return input.kind === 'recording' ? null : run(bytes);
}

export const PATHS: Readonly<Record<string, Path>> = {
  wav: { kind: 'wav', mutations: [damage, wavLie, wavLie], read: decoded },
  mp3: { kind: 'mp3', mutations: [damage, mp3Lie, id3Lie], read: decoded },
  flac: { kind: 'flac', mutations: [damage, flacLie, id3Lie], read: decoded },
  vorbis: { kind: 'vorbis', mutations: [damage, oggLie, oggLie], read: decoded },
  opus: { kind: 'opus', mutations: [damage, oggLie, oggLie], read: decoded },
  mp4: { kind: 'mp4', mutations: [damage, mp4Lie, mp4Lie], read: decoded },
  adts: { kind: 'adts', mutations: [damage, adtsLie, id3Lie], read: decoded },
  list: { kind: 'list', mutations: [damage, textDamage, textDamage, arbitraryList], read },
  json: { kind: 'json', mutations: [damage, jsonDamage, jsonDamage, arbitraryJson], read },
  midi: { kind: 'midi', mutations: [damage, arbitraryMidi], read },
  'program, list': { kind: 'list', mutations: [textDamage, arbitraryList], read: runNotes },
  'program, JSON': { kind: 'json', mutations: [jsonDamage], read: runNotes },
  'program, MIDI': { kind: 'midi', mutations: [damage, arbitraryMidi], read: runNotes },
};

/** One sentence without control characters: what a user may be shown. */
export function isSentence(text: string): boolean {
  return /[.?]$/.test(text) && !/\p{Cc}|\n\s+at /u.test(text);
}

/** The bytes of a case, which its path and its seed decide. */
export function caseBytes(path: string, seed: number, bases: Bases): Uint8Array {
  const { kind, mutations } = PATHS[path]!;
  const random: Random = seededRandom(seed);
  const base = random.pick(bases[kind]!);
  const first = random.pick(mutations)(base, random);
  // Some lies are damaged on top.
  return below(random, 4) === 0 ? random.pick([damage, random.pick(mutations)])(first, random) : first;
}

/** What is wrong with the outcome of a case; null where it is a value, or one clear error. */
export async function outcomeOf(path: string, bytes: Uint8Array): Promise<string | null> {
  try {
    return await PATHS[path]!.read(bytes);
  } catch (error) {
    if (!(error instanceof CantilenaError)) {
      return `thrown: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`;
    }
    return isSentence(error.message) ? null : `no sentence: ${JSON.stringify(error.message)}`;
  }
}
