/** The recordings of `fixtures/` are what their README says, and their maker makes them again. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { badInputs, ODD_BUT_VALID } from '../fixtures/maker/bad-inputs.js';
import { perform } from '../fixtures/maker/perform.js';
import { RECORDINGS, type RecordingPlan } from '../fixtures/maker/recordings.js';
import { type Truth, truthOf, truthText } from '../fixtures/maker/truth.js';
import { wavBytes } from '../fixtures/maker/wav.js';

const FOLDER = resolve(import.meta.dirname, '../fixtures');
/** Bytes of the whole folder: a clone should stay quick. */
const MOST_BYTES = 2.5e6;

const planOf = (name: string): RecordingPlan => RECORDINGS.find((plan) => plan.name === name)!;
const truthFile = (name: string): Truth =>
  JSON.parse(readFileSync(join(FOLDER, `${name}.truth.json`), 'utf8')) as Truth;
/** Samples of a plain 16-bit WAV with a 44-byte header, −1..1. */
const samplesOf = (name: string): Float64Array => {
  const bytes = readFileSync(join(FOLDER, `${name}.wav`));
  return Float64Array.from(
    { length: (bytes.length - 44) / 2 },
    (_, i) => bytes.readInt16LE(44 + 2 * i) / 32768,
  );
};
/** Compares by bytes: NaN equals itself, and a million samples take no time. */
const sameBytes = (a: Float64Array | Uint8Array, b: Float64Array | Uint8Array): boolean =>
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength));
const rms = (samples: Float64Array): number =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);

/** Frequency of the strongest of the lags of the normalised autocorrelation, between two bounds in hertz. */
function strongestHz(samples: Float64Array, sampleRate: number, lowHz: number, highHz: number): number {
  let best = { lag: 0, likeness: -1 };
  for (let lag = Math.floor(sampleRate / highHz); lag <= sampleRate / lowHz; lag++) {
    let product = 0;
    let energy = 0;
    for (let i = 0; i + lag < samples.length; i++) {
      product += samples[i]! * samples[i + lag]!;
      energy += samples[i]! ** 2 + samples[i + lag]! ** 2;
    }
    const likeness = (2 * product) / energy;
    if (likeness > best.likeness) best = { lag, likeness };
  }
  return sampleRate / best.lag;
}

describe('the folder', () => {
  test('holds every recording of the plan, each with its truth, and no other', () => {
    const audio = readdirSync(FOLDER).filter((name) => /\.(wav|flac|m4a|ogg|mp3|opus)$/.test(name));
    expect(audio.sort()).toEqual(RECORDINGS.map((plan) => `${plan.name}.${plan.ending}`).sort());
    const truths = readdirSync(FOLDER).filter((name) => name.endsWith('.truth.json'));
    expect(truths.sort()).toEqual(RECORDINGS.map((plan) => `${plan.name}.truth.json`).sort());
  });

  test('covers each container once at least, two channels, and voices, whistling and piano', () => {
    expect(new Set(RECORDINGS.map((plan) => plan.ending))).toEqual(
      new Set(['wav', 'flac', 'm4a', 'ogg', 'mp3', 'opus']),
    );
    expect(new Set(RECORDINGS.map((plan) => plan.performer.kind))).toEqual(
      new Set(['voice', 'whistle', 'piano']),
    );
    expect(RECORDINGS.some((plan) => plan.channels === 2)).toBe(true);
  });

  test('stays small', () => {
    const files = readdirSync(FOLDER, { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    const bytes = files.reduce((sum, entry) => sum + statSync(join(entry.parentPath, entry.name)).size, 0);
    expect(bytes).toBeLessThan(MOST_BYTES);
  });

  test('is described: the README has a row for each recording', () => {
    const readme = readFileSync(join(FOLDER, 'README.md'), 'utf8');
    for (const plan of RECORDINGS) expect(readme).toContain(`| \`${plan.name}.${plan.ending}\` `);
  });
});

describe.each(RECORDINGS.map((plan) => plan.name))('the truth of %s', (name) => {
  const truth = truthFile(name);

  test('has notes in order, none over another, none shorter than a tenth of a second', () => {
    expect(truth.notes.length).toBeGreaterThan(10);
    truth.notes.forEach((note, index) => {
      expect(note.end - note.start).toBeGreaterThan(0.1);
      expect(note.start).toBeGreaterThanOrEqual(truth.notes[index - 1]?.end ?? 0);
      expect(Number.isInteger(note.midi)).toBe(true);
    });
  });

  test('says where the tune is from, how it is tuned, and where its lines begin', () => {
    expect(truth.title).not.toBe('');
    expect(truth.source).toMatch(/traditional|\d{4}|CC0/);
    expect(Math.abs(truth.tuningCents)).toBeLessThanOrEqual(50);
    expect(truth.lines[0]).toBe(0);
    // Before a line there is time for breath; inside one the notes follow each other.
    truth.notes.forEach((note, index) => {
      const gap = index === 0 ? 1 : note.start - truth.notes[index - 1]!.end;
      if (truth.lines.includes(index)) expect(gap).toBeGreaterThan(0.04);
      else expect(gap).toBeLessThan(0.13);
    });
  });
});

describe.each(['sung-low', 'hummed-sharp'])('what is heard in %s', (name) => {
  const samples = samplesOf(name);
  const truth = truthFile(name);
  const { sampleRate } = planOf(name);
  const part = (from: number, to: number) =>
    samples.subarray(Math.round(from * sampleRate), Math.round(to * sampleRate));

  test('has no sample above −1 dBFS', () => {
    expect(samples.reduce((peak, value) => Math.max(peak, Math.abs(value)), 0)).toBeLessThan(10 ** (-1 / 20));
  });

  test('is quiet just before a line and loud just after its first note began', () => {
    for (const index of truth.lines) {
      const { start } = truth.notes[index]!;
      const before = rms(part(start - 0.2, start - 0.13));
      expect(rms(part(start + 0.03, start + 0.1))).toBeGreaterThan(10 * before);
    }
  });

  test('has each note at its key, within 45 cents once the tuning is out', () => {
    for (const { start, end, midi } of truth.notes) {
      const middle = (start + end) / 2 + 0.02;
      const target = 440 * 2 ** ((midi + truth.tuningCents / 100 - 69) / 12);
      const hz = strongestHz(part(middle - 0.04, middle + 0.04), sampleRate, target / 1.4, target * 1.4);
      expect(Math.abs(1200 * Math.log2(hz / target)), `note at ${start} s`).toBeLessThan(45);
    }
  });
});

describe('the maker', () => {
  test('gives the same samples for the same seed, and others for another', () => {
    const short = { ...planOf('hummed-sharp'), tune: { title: 'two', source: 'CC0', lines: ['A3 A3'] } };
    const [first, again] = [perform(short), perform(short)];
    const other = perform({ ...short, seed: short.seed + 1 });
    expect(sameBytes(again.channels[0]!, first.channels[0]!)).toBe(true);
    expect(again.notes).toEqual(first.notes);
    expect(sameBytes(other.channels[0]!, first.channels[0]!)).toBe(false);
  });

  test('makes the stored sung-low.wav and its truth again, to the last step of 16 bits', () => {
    const plan = planOf('sung-low');
    const take = perform(plan);
    const made = Buffer.from(wavBytes(take.channels, { sampleRate: plan.sampleRate, bits: 16 }));
    const stored = readFileSync(join(FOLDER, 'sung-low.wav'));
    expect(made.length).toBe(stored.length);
    let worst = 0;
    for (let at = 44; at < made.length; at += 2) {
      worst = Math.max(worst, Math.abs(made.readInt16LE(at) - stored.readInt16LE(at)));
    }
    expect(worst).toBeLessThanOrEqual(1);
    expect(truthText(truthOf(plan, take.notes, 0))).toBe(
      readFileSync(join(FOLDER, 'sung-low.truth.json'), 'utf8'),
    );
  });

  test('gives each ear of the stereo recording the same voice and its own noise', () => {
    const { channels } = perform(planOf('stereo-sung'));
    const [left, right] = channels as [Float64Array, Float64Array];
    const difference = rms(left.map((value, i) => value - right[i]!));
    expect(difference).toBeGreaterThan(0);
    expect(difference).toBeLessThan(rms(left) / 30);
  });
});

describe('bad inputs', () => {
  test('are the same on every call, and the odd but valid ones are among them', () => {
    const inputs = badInputs();
    for (const [name, bytes] of Object.entries(badInputs())) {
      expect(sameBytes(bytes, inputs[name]!), name).toBe(true);
    }
    expect(Object.keys(inputs)).toEqual(expect.arrayContaining([...ODD_BUT_VALID]));
    expect(inputs.empty).toHaveLength(0);
    expect(inputs['ten-hour-header']).toHaveLength(1024);
  });

  test('have the header fields that the RIFF and RF64 papers give', () => {
    const inputs = badInputs();
    const view = (name: string) => Buffer.from(inputs[name]!);
    expect(view('extensible-24').readUInt16LE(20)).toBe(0xfffe);
    expect(view('extensible-24').readUInt32LE(16)).toBe(40);
    expect(view('float64').readUInt16LE(20)).toBe(3);
    expect(view('eight-bit').readUInt16LE(34)).toBe(8);
    expect(view('rf64').toString('latin1', 0, 16)).toBe('RF64\xff\xff\xff\xffWAVEds64');
    expect(view('rf64').readBigUInt64LE(20)).toBe(BigInt(inputs.rf64!.length - 8));
    expect(view('streaming-size-ffffffff').readUInt32LE(40)).toBe(0xffffffff);
    expect(view('streaming-size-0').readUInt32LE(40)).toBe(0);
    expect(view('odd-chunk').readUInt32LE(40) % 2).toBe(1);
  });
});
