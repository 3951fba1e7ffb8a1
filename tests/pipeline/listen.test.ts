import { describe, expect, test } from 'vitest';
import { ANALYSIS_RATE } from '../../src/audio/types.js';
import { encodeWav } from '../../src/audio/write-wav.js';
import { listen } from '../../src/pipeline/listen.js';
import { band, over } from '../pitch/band.js';
import { sing } from '../pitch/signals.js';

const WHOLE = { from: null, to: null };
const NOTES = [60, 64, 67, 64].map((midi, i) => ({ start: 0.3 + 0.6 * i, end: 0.75 + 0.6 * i, midi }));
const voice = sing(NOTES, 3);
const mixture = over(voice, band(3, ['chords', 'bass']), 3);

/** Voice in the middle, band on the left: what the side holds is needed to the end. */
function song(): Uint8Array {
  const channels = [mixture, voice].map((samples) => samples.map((x) => x / 2));
  return encodeWav(channels, ANALYSIS_RATE);
}

describe('listen', () => {
  test.each(['solo', 'mix', 'auto'] as const)(
    'as %s lets go of the bytes, and hears the same',
    async (source) => {
      const request = { source, lowestMidi: null, highestMidi: null };
      const [kept, once] = [song(), song()];
      let released = 0;
      const release = () => {
        released++;
        once.fill(0);
      };
      const wanted = await listen({ bytes: kept, label: 'song' }, WHOLE, request);
      const got = await listen({ bytes: once, label: 'song', release }, WHOLE, request);
      expect(released).toBe(1);
      expect(got).toEqual(wanted);
      expect(got.input.notes.length).toBeGreaterThan(2);
    },
  );
});
