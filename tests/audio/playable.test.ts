import { describe, expect, test } from 'vitest';
import { decodePlayable, PLAY_RATE } from '../../src/audio/playable.js';
import { encodeWav } from '../../src/audio/write-wav.js';
import { centsOff } from '../dsp/cents-off.js';

const tone = (hz: number, rate: number, sign = 1) =>
  Float32Array.from({ length: 2 * rate }, (_, i) => sign * 0.4 * Math.sin((2 * Math.PI * hz * i) / rate));

describe('a recording for playing', () => {
  test('is brought to the rate of the guide, from one moment to another', async () => {
    const bytes = encodeWav([tone(440, 22_050)], 22_050);
    const { samples, speed } = await decodePlayable(bytes, 'tone', { from: 0.5, to: 1.5, tuningCents: 0 });
    expect(speed).toBe(1);
    expect(samples).toHaveLength(PLAY_RATE);
    expect(Math.abs(centsOff(samples, PLAY_RATE, 440, [0.1, 0.9]))).toBeLessThan(0.05);
    expect(samples[0]).toBeCloseTo(0, 2);
  });

  test.each([-35, 22])('of %i cents is brought to the piano’s tuning, by its speed', async (cents) => {
    const bytes = encodeWav([tone(440 * 2 ** (cents / 1200), PLAY_RATE)], PLAY_RATE);
    const { samples, speed } = await decodePlayable(bytes, 'tone', { from: 0, to: 2, tuningCents: cents });
    expect(Math.abs(centsOff(samples, PLAY_RATE, 440, [0.1, 1.8]))).toBeLessThan(1);
    expect(samples.length / PLAY_RATE).toBeCloseTo(2 / speed, 3);
  });

  test('whose channels cancel is played from one of them', async () => {
    const bytes = encodeWav([tone(440, 44_100), tone(440, 44_100, -1)], 44_100);
    const { samples } = await decodePlayable(bytes, 'tone', { from: 0, to: 2, tuningCents: 0 });
    expect(Math.max(...samples.subarray(1000, 3000))).toBeCloseTo(0.4, 2);
  });

  test('that ends before the part is refused', async () => {
    const bytes = encodeWav([tone(440, 8000)], 8000);
    await expect(decodePlayable(bytes, 'tone', { from: 3, to: 4, tuningCents: 0 })).rejects.toThrow(
      /holds no sound from 3.0 s on/,
    );
  });
});
