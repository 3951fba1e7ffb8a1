import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeRecording } from '../../src/audio/decode.js';
import { SIDE_ATTENUATION_DB } from '../../src/audio/side.js';
import { pack } from '../../src/dsp/packed.js';
import { createResampler } from '../../src/dsp/resample.js';
import { unpacked } from '../dsp/unpacked.js';
import { chunk, floats, fmt, riff } from './make-wav.js';

const RATE = 44_100;

function wavOf(channels: readonly (readonly number[])[], rate = 16_000): Uint8Array {
  const frames = channels[0]!.flatMap((_, i) => channels.map((channel) => channel[i]!));
  const format = fmt({ channels: channels.length, tag: 3, bits: 32, rate });
  return riff(format, chunk('data', floats(frames, 32)));
}

/** A recording with its side unpacked. */
async function decode(bytes: Uint8Array, options: Parameters<typeof decodeRecording>[2] = { side: true }) {
  const recording = await decodeRecording(bytes, 'song', options);
  return { ...recording, side: recording.side ? unpacked(recording.side) : null };
}

/** Half a step of 16 bits at full scale, and some: what packing may cost. */
const PACKING = 0.51 / 32767;

const tone = (hz: number, gain: number, length: number, rate: number) =>
  Array.from({ length }, (_, i) => gain * Math.sin((2 * Math.PI * hz * i) / rate));

/** What the side's own filter makes of samples at RATE. */
function atAnalysisRate(samples: readonly number[]): number[] {
  const resampler = createResampler(RATE, 16_000, SIDE_ATTENUATION_DB);
  return [...resampler.push(Float32Array.from(samples)), ...resampler.finish()];
}

describe('the side signal', () => {
  test('is half the difference of left and right, sample by sample', async () => {
    const { samples, side } = await decode(
      wavOf([
        [0.5, 0.25, -1, 0],
        [0.25, -0.25, 1, 0],
      ]),
    );
    expect([...side!]).toEqual([0.125, 0.25, -1, 0].map((value) => expect.closeTo(value, 4)));
    expect([...samples]).toEqual([0.375, 0, 0, 0]);
  });

  test('keeps level and time through the change of rate: tones of known pitch, one in each ear', async () => {
    const [left, right] = [tone(440, 0.4, RATE, RATE), tone(1000, 0.2, RATE, RATE)];
    const { samples, side } = await decode(wavOf([left, right], RATE));
    expect(side).toHaveLength(samples.length);
    // Away from the ends, where the recording begins and stops at once.
    for (let i = 1000; i < 15_000; i++) {
      const t = i / 16_000;
      const wanted = 0.2 * Math.sin(2 * Math.PI * 440 * t) - 0.1 * Math.sin(2 * Math.PI * 1000 * t);
      expect(Math.abs(side![i]! - wanted)).toBeLessThan(1e-4);
    }
  });

  test('keeps its time where the channels are equal for long and then differ', async () => {
    const equal = 2 * RATE;
    const right = new Array<number>(3 * RATE).fill(0);
    const left = [...right.slice(0, equal), ...tone(440, 0.4, RATE, RATE)];
    const { side, samples } = await decode(wavOf([left, right], RATE));
    const wanted = atAnalysisRate(left);
    expect(side).toHaveLength(samples.length);
    const packed = unpacked(pack(Float32Array.from(wanted, (value) => value / 2)));
    expect(side!.every((value, i) => value === packed[i])).toBe(true);
  });

  test('and the mono signal are half the sum and difference of the two channels decoded alone', async () => {
    const values = fc.array(
      fc.tuple(fc.float({ min: -1, max: 1, noNaN: true }), fc.integer({ min: -8, max: 8 })),
      {
        minLength: 40,
        maxLength: 400,
      },
    );
    await fc.assert(
      fc.asyncProperty(values, async (pairs) => {
        const channels = [pairs.map(([a]) => a), pairs.map(([, b]) => b / 8)];
        const { samples, side, source } = await decode(wavOf(channels, RATE));
        // Channels that cancel are mixed another way.
        if (source.warnings.length > 0 || side === null) return;
        const [left, right] = await Promise.all(channels.map((c) => decode(wavOf([c], RATE))));
        const apart = atAnalysisRate(pairs.map(([a, b]) => (a - b / 8) / 2));
        side!.forEach((value, i) => {
          const [l, r] = [left!.samples[i]!, right!.samples[i]!];
          // Where an overshoot of the filter was clamped the sum is another.
          if (Math.max(Math.abs(l), Math.abs(r)) === 1) return;
          if (Math.abs(value) < 1) expect(Math.abs(value - apart[i]!)).toBeLessThan(PACKING);
          expect(samples[i]).toBeCloseTo((l + r) / 2, 5);
        });
      }),
      { numRuns: 30 },
    );
  });

  test('leaves the mono signal as it is without it, bit for bit', async () => {
    const bytes = wavOf([tone(300, 0.5, 9000, RATE), tone(777, 0.3, 9000, RATE)], RATE);
    const [without, with_] = [await decodeRecording(bytes, 'song'), await decode(bytes)];
    expect(with_.samples).toEqual(without.samples);
    expect(with_.source).toEqual(without.source);
    expect('side' in without).toBe(false);
  });

  test('is cut to the same part', async () => {
    const bytes = wavOf([tone(300, 0.5, RATE, RATE), tone(777, 0.3, RATE, RATE)], RATE);
    const whole = await decode(bytes);
    const part = await decode(bytes, { side: true, fromSeconds: 0.25, toSeconds: 0.5 });
    part.side!.forEach((value, i) => {
      expect(Math.abs(value - whole.side![4000 + i]!)).toBeLessThan(2 * PACKING);
    });
    expect(part.side).toHaveLength(4000);
  });

  test('of more than two channels is that of the first two; the mono signal is the mean of all', async () => {
    const { samples, side } = await decode(wavOf([[0.5], [0.25], [0.75], [0]]));
    expect(side![0]).toBeCloseTo(0.125, 6);
    expect(samples[0]).toBe(0.375);
  });

  test('counts a sample that is no finite number as silence', async () => {
    const { side } = await decode(
      wavOf([
        [0.5, Number.NaN, 0.5],
        [Number.POSITIVE_INFINITY, 0.5, 0.25],
      ]),
    );
    expect([...side!]).toEqual([0.25, -0.25, expect.closeTo(0.125, 4)]);
  });

  test('is scaled down with the mono signal where peaks lie beyond full scale', async () => {
    const { samples, side } = await decode(
      wavOf([
        [4, 2],
        [2, 2],
      ]),
    );
    expect([...samples]).toEqual([0.75, 0.5]);
    expect([...side!]).toEqual([0.25, 0]);
  });
});

describe('there is no side signal', () => {
  const voice = tone(330, 0.5, 2000, 16_000);

  test('in one channel, nor in two equal ones', async () => {
    expect((await decode(wavOf([voice]))).side).toBeNull();
    expect((await decode(wavOf([voice, voice]))).side).toBeNull();
  });

  test('where the channels differ by −66 dB; at −54 dB there is', async () => {
    const apart = (db: number) => voice.map((value, i) => value + 10 ** (db / 20) * Math.cos(i));
    expect((await decode(wavOf([voice, apart(-66)]))).side).toBeNull();
    expect((await decode(wavOf([voice, apart(-54)]))).side).not.toBeNull();
  });

  test('where the channels cancel and one was taken alone', async () => {
    const { side, source } = await decode(wavOf([voice.map((value) => -0.9 * value), voice]));
    expect(side).toBeNull();
    expect(source.warnings).toEqual([expect.stringContaining('channel 2')]);
  });
});
