import { describe, expect, test } from 'vitest';
import type { Recording } from '../../src/audio/types.js';
import { pack } from '../../src/dsp/packed.js';
import { karaokeMix } from './karaoke.js';

/** A clip whose left channel is a band of power 0.01 and whose right one a voice of power 0.0025. */
const BAND = [0.1, 0.1, -0.1, -0.1];
const VOICE = [0.05, -0.05, 0.05, -0.05];
const CLIP: Recording = {
  samples: Float32Array.from(BAND, (band, i) => (band + VOICE[i]!) / 2),
  side: pack(Float32Array.from(BAND, (band, i) => (band - VOICE[i]!) / 2)),
  sampleRate: 16_000,
  source: { container: 'ogg-opus', sampleRate: 48_000, channels: 2, seconds: 4 / 16_000, warnings: [] },
};

function expectSamples(got: Recording, wanted: readonly number[]) {
  expect(got.side).toBeNull();
  expect([...got.samples]).toEqual(wanted.map((s) => expect.closeTo(s, 4)));
}

describe('karaokeMix', () => {
  test('at 0 dB the voice is as strong as the band', () => {
    expectSamples(karaokeMix(CLIP, 0), [0.2, 0, 0, -0.2]);
  });

  test('at −20 dB it has a tenth of its amplitude', () => {
    expectSamples(karaokeMix(CLIP, -20), [0.11, 0.09, -0.09, -0.11]);
  });

  test('alone it is as it was', () => {
    expectSamples(karaokeMix(CLIP, 'alone'), VOICE);
  });

  test('what would clip is brought down to full scale', () => {
    // At 40 dB the voice has 100 times the band's amplitude: 10 ± 0.1, brought down by 10.1.
    expectSamples(karaokeMix(CLIP, 40), [1, -9.9 / 10.1, 9.9 / 10.1, -1]);
  });

  test('a clip in one channel is refused', () => {
    expect(() => karaokeMix({ ...CLIP, side: null }, 0)).toThrow('a band on the left');
  });
});
