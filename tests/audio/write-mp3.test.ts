import { describe, expect, test } from 'vitest';
import { decodePlayable } from '../../src/audio/playable.js';
import { encodeMp3 } from '../../src/audio/write-mp3.js';
import { centsOff } from '../dsp/cents-off.js';

const RATE = 44_100;
const tone = (hz: number, amplitude: number) =>
  Float32Array.from({ length: 2 * RATE }, (_, i) => amplitude * Math.sin((2 * Math.PI * hz * i) / RATE));

describe('an MP3 file', () => {
  test('holds the sound, within 60 ms of its length and a tenth of its level', async () => {
    const bytes = await encodeMp3([tone(440, 0.5)], RATE);
    expect(bytes.length).toBeLessThan(0.2 * 2 * RATE * 2);
    const { samples } = await decodePlayable(bytes, 'tone', { from: 0, to: 5, tuningCents: 0 });
    expect(Math.abs(samples.length / RATE - 2)).toBeLessThan(0.06);
    expect(Math.abs(centsOff(samples, RATE, 440, [0.3, 1.7]))).toBeLessThan(0.5);
    const peak = samples.subarray(RATE / 2, RATE).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(peak).toBeCloseTo(0.5, 1);
  });

  test('holds two channels, and is refused three or unequal ones', async () => {
    const two = await encodeMp3([tone(440, 0.4), tone(660, 0.2)], RATE);
    const { samples } = await decodePlayable(two, 'two', { from: 0, to: 5, tuningCents: 0 });
    expect(Math.abs(centsOff(samples, RATE, 660, [0.3, 1.7]))).toBeLessThan(0.5);
    await expect(encodeMp3([], RATE)).rejects.toThrow(RangeError);
    await expect(encodeMp3([tone(1, 1), new Float32Array(9)], RATE)).rejects.toThrow(RangeError);
  });
});
