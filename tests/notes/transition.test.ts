import { describe, expect, test } from 'vitest';
import type { Segment } from '../../src/notes/segment.js';
import { atPitchCrossings } from '../../src/notes/transition.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { gliding, trackOf } from './tracks.js';

/** One pitch to frame 45, a straight glide of 10 frames, another pitch to frame 100: half-way at frame 49.5. */
function glide(from: number, to: number): PitchTrack {
  return trackOf([
    { frames: 45, pitch: from },
    { frames: 10, pitch: gliding(from, to, 10), onset: 0 },
    { frames: 45, pitch: to, onset: 0 },
  ]);
}
const HALFWAY = 49.5;

const cutAt = (boundary: number, gap = 0): Segment[] => [
  { first: 0, end: boundary - gap },
  { first: boundary, end: 100 },
];

describe('atPitchCrossings', () => {
  test.each([
    ['up', 60, 64],
    ['down', 64, 60],
    ['a single semitone up', 60, 61],
    ['an octave down', 72, 60],
  ])(
    'a note reached by a glide %s starts when the glide is half-way, or within 60 ms after',
    (_, from, to) => {
      for (const boundary of [44, 50, 58, 62]) {
        const [before, after] = atPitchCrossings(glide(from, to), cutAt(boundary));
        expect(after!.first).toBeGreaterThanOrEqual(Math.floor(HALFWAY));
        expect(after!.first).toBeLessThanOrEqual(HALFWAY + 6);
        expect(after!.end).toBe(100);
        expect(before!.first).toBe(0);
        expect(before!.end).toBe(Math.min(boundary, after!.first));
      }
    },
  );

  test('where the voice breaks between the crossing and the onset, the onset stays', () => {
    const track = glide(60, 64);
    track.voiced.fill(0.1, 52, 57);
    expect(atPitchCrossings(track, cutAt(58))).toEqual(cutAt(58));
  });

  test('notes with a rest between them stay', () => {
    expect(atPitchCrossings(glide(60, 64), cutAt(58, 15))).toEqual(cutAt(58, 15));
  });

  test('a repeated key has no crossing', () => {
    const track = trackOf([{ frames: 100, pitch: (f) => 60 + 0.2 * Math.sin(f / 3) }]);
    expect(atPitchCrossings(track, cutAt(50))).toEqual(cutAt(50));
  });

  test('a jump from one frame to the next that overshoots is no glide', () => {
    // The tracker leaves for the octave above and comes back on the new key.
    const track = trackOf([
      { frames: 50, pitch: 60 },
      { frames: 2, pitch: 76, onset: 0 },
      { frames: 48, pitch: 64, onset: 0 },
    ]);
    expect(atPitchCrossings(track, cutAt(58))).toEqual(cutAt(58));
  });

  test('a crossing more than 150 ms from the onset is another event', () => {
    expect(atPitchCrossings(glide(60, 64), cutAt(75))).toEqual(cutAt(75));
  });

  test('no note becomes shorter than 40 ms, and no segments give none', () => {
    const short: Segment[] = [
      { first: 0, end: 47 },
      { first: 47, end: 53 },
    ];
    for (const { first, end } of atPitchCrossings(glide(60, 64), short)) {
      expect(end - first).toBeGreaterThanOrEqual(4);
    }
    expect(atPitchCrossings(glide(60, 64), [])).toEqual([]);
  });

  test('the segments given are left alone', () => {
    const given = cutAt(58);
    expect(atPitchCrossings(glide(60, 64), given)).not.toEqual(given);
    expect(given).toEqual(cutAt(58));
  });
});
