import { describe, expect, test } from 'vitest';
import { pulseTracks } from '../../../src/rhythm/beats/pulse.js';
import { countAt } from '../../../src/rhythm/beats/track.js';

/** Mean distance of the onsets from whole counts. */
function distance(track: Parameters<typeof countAt>[0], onsets: readonly number[]): number {
  const off = onsets.map((onset) => Math.abs(countAt(track, onset) - Math.round(countAt(track, onset))));
  return off.reduce((a, b) => a + b, 0) / off.length;
}

describe('pulseTracks', () => {
  test('a steady pulse is among the steady tracks, to a thousandth, with its phase', () => {
    const onsets = [0, 1, 2, 4, 5, 6, 7, 8, 10, 11, 12, 16, 17, 18, 20, 24, 25, 26, 28].map(
      (k) => 3.3 + k * 0.41,
    );
    const { steady } = pulseTracks(onsets);
    const near = steady.filter(
      (track) => Math.abs((countAt(track, 1) - countAt(track, 0)) * 0.41 - 1) < 0.001,
    );
    expect(near.length).toBeGreaterThan(0);
    expect(distance(near[0]!, onsets)).toBeLessThan(0.02);
  });

  test('a pulse that slows down by a fifth is among the followed tracks, and no steady one fits', () => {
    const onsets: number[] = [];
    for (let k = 0, at = 2; k < 120; k++, at += 0.3 + 0.0005 * k) onsets.push(at);
    const { steady, followed } = pulseTracks(onsets);
    const followedBest = Math.min(...followed.map((track) => distance(track, onsets)));
    const steadyBest = Math.min(...steady.map((track) => distance(track, onsets)));
    expect(followedBest).toBeLessThan(0.05);
    expect(steadyBest).toBeGreaterThan(2 * followedBest);
  });

  test('tracks never run backwards', () => {
    const onsets = [1, 1.2, 1.9, 3.4, 9, 9.3, 9.9, 10.7, 22, 22.5, 23.9, 30];
    for (const { counts, seconds } of Object.values(pulseTracks(onsets)).flat()) {
      counts.forEach((count, i) => {
        if (i === 0) return;
        expect(count).toBeGreaterThan(counts[i - 1]!);
        expect(seconds[i]!).toBeGreaterThan(seconds[i - 1]!);
      });
    }
  });
});
