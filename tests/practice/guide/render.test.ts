import { beforeAll, describe, expect, test } from 'vitest';
import { PLAY_RATE } from '../../../src/audio/playable.js';
import { encodeWav } from '../../../src/audio/write-wav.js';
import { truePeak } from '../../../src/dsp/true-peak.js';
import { planGuide } from '../../../src/practice/guide/plan.js';
import { renderGuide } from '../../../src/practice/guide/render.js';
import { guideFile } from '../../../src/practice/guide/sound.js';
import type { GuidePlan, GuideRequest } from '../../../src/practice/guide/types.js';
import { midiToHz } from '../../../src/units.js';
import { centsOff } from '../../dsp/cents-off.js';
import { melodyOf, TWO_LINES } from './tunes.js';

const MELODY = melodyOf(TWO_LINES, { beatSeconds: 0.5 });
const ALL: GuideRequest = {
  speed: 0.5,
  repeat: 1,
  countIn: true,
  drone: true,
  beside: true,
  callAndResponse: false,
};
const db = (amplitude: number) => 20 * Math.log10(amplitude);
const rms = (samples: Float32Array) => Math.sqrt(samples.reduce((s, x) => s + x * x, 0) / samples.length);
const part = (samples: Float32Array, from: number, to: number) =>
  samples.subarray(Math.round(from * PLAY_RATE), Math.round(to * PLAY_RATE));
/** 14 s of a loud tone with harmonics: what the recording is made to be. */
const RECORDING = Float32Array.from({ length: 14 * PLAY_RATE }, (_, i) => {
  const t = i / PLAY_RATE;
  return [1, 2, 3, 4].reduce((sum, n) => sum + (0.5 / n) * Math.sin(2 * Math.PI * 262 * n * t), 0);
});

let plan: GuidePlan;
let left: Float32Array;
let right: Float32Array;
beforeAll(() => {
  plan = planGuide(MELODY, MELODY.notes, ALL);
  [left, right] = renderGuide(plan, { samples: RECORDING, speed: 1, from: 0 }) as [
    Float32Array,
    Float32Array,
  ];
});

describe('a guide with everything', () => {
  test('is as long as its plan, and never above −1 dB, between samples too', () => {
    for (const channel of [left, right]) {
      expect(channel.length).toBe(Math.ceil(plan.seconds * PLAY_RATE));
      expect(db(truePeak(channel))).toBeLessThanOrEqual(-0.99);
    }
  });

  test('begins with silence, and then softly', () => {
    for (const channel of [left, right]) {
      expect(part(channel, 0, 0.3).every((x) => x === 0)).toBe(true);
    }
    const loudest = Math.max(...Array.from({ length: 20 }, (_, i) => rms(part(right, i, i + 0.5))));
    expect(db(rms(part(right, 0.5, 1)))).toBeLessThan(db(loudest) - 5);
  });

  test('ends in silence', () => {
    for (const channel of [left, right]) {
      expect(Math.abs(channel.at(-1)!)).toBeLessThan(1e-6);
      expect(db(rms(part(channel, plan.seconds - 0.05, plan.seconds)))).toBeLessThan(-60);
    }
  });

  test('has the recording left, with the keys and no longer, and edges that do not click', () => {
    const recording = plan.events.find((event) => event.kind === 'recording')!;
    const end = recording.start + (recording.to - recording.from) / plan.speed;
    expect(part(left, 0, recording.start).every((x) => x === 0)).toBe(true);
    expect(part(left, end + 0.001, plan.seconds).every((x) => x === 0)).toBe(true);
    expect(db(rms(part(left, recording.start + 1, end - 1)))).toBeGreaterThan(-30);
    expect(Math.abs(centsOff(left, PLAY_RATE, 262, [recording.start + 1, end - 1]))).toBeLessThan(1);
    let step = 0;
    for (let i = 1; i < left.length; i++) step = Math.max(step, Math.abs(left[i]! - left[i - 1]!));
    const peak = left.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    // Four harmonics of 262 Hz, 1/n each, move by no more than 4 · 2π · 262 / 44100 · 0.5 of 1 a sample.
    expect(step).toBeLessThan(0.15 * peak);
  });

  test('has the piano right, and both ears about as loud', () => {
    const last = plan.events.at(-1)!;
    expect(last.kind).toBe('key');
    const hz = midiToHz(62);
    expect(Math.abs(centsOff(right, PLAY_RATE, hz, [last.start + 0.1, last.start + 0.9]))).toBeLessThan(3);
    const playing = [
      plan.events.find((event) => event.kind === 'recording')!.start + 0.5,
      plan.seconds - 2,
    ] as const;
    expect(Math.abs(db(rms(part(left, ...playing)) / rms(part(right, ...playing))))).toBeLessThan(8);
  });
});

test('a recording of knocks, all peak and little level, does not clip either', () => {
  const knocks = new Float32Array(10 * PLAY_RATE);
  for (let i = 0; i < knocks.length; i += 20_000) knocks[i] = 0.9;
  const two = planGuide(MELODY, MELODY.notes.slice(0, 2), { ...ALL, speed: 1, drone: false, countIn: false });
  const [ear] = renderGuide(two, { samples: knocks, speed: 1, from: 0 });
  const peak = db(truePeak(ear!));
  expect(peak).toBeLessThanOrEqual(-0.99);
  expect(peak).toBeGreaterThan(-1.5);
});

test('a guide is the same every time, 16 bits, one channel without a recording and two with one', async () => {
  const plain = planGuide(MELODY, MELODY.notes.slice(0, 2), {
    ...ALL,
    drone: false,
    countIn: false,
    beside: false,
  });
  const wav = await guideFile(plain, null, 'wav');
  expect(Buffer.from(wav).equals(Buffer.from(await guideFile(plain, null, 'wav')))).toBe(true);
  const view = new DataView(wav.buffer, wav.byteOffset);
  // The fields of a WAV header: channels, rate, bits a sample.
  expect([view.getUint16(22, true), view.getUint32(24, true), view.getUint16(34, true)]).toEqual([
    1, 44_100, 16,
  ]);

  const beside = planGuide(MELODY, MELODY.notes.slice(0, 2), { ...ALL, drone: false, countIn: false });
  const bytes = encodeWav([RECORDING.subarray(0, 6 * PLAY_RATE)], PLAY_RATE);
  const two = await guideFile(beside, { bytes, label: 'tone', tuningCents: 12 }, 'wav');
  expect(new DataView(two.buffer, two.byteOffset).getUint16(22, true)).toBe(2);
});
