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

const cutAt = (boundary: number, gap = 0): Segment[] => [
  { first: 0, end: boundary - gap },
  { first: boundary, end: 100 },
];
const startOf = (track: PitchTrack, boundary: number) => atPitchCrossings(track, cutAt(boundary))[1]!.first;

describe('atPitchCrossings', () => {
  // A note begins 20 ms after its pitch is half-way, at frame 51.5; an earlier start goes 85 % of the way there.
  test.each([
    ['up', 60, 64],
    ['down', 64, 60],
    ['a single semitone up', 60, 61],
    ['an octave down', 72, 60],
  ])('a note reached by a glide %s and cut before half-way starts just after it', (_, from, to) => {
    // 36 + 0.85·15.5 = 49.2; 40 + 0.85·11.5 = 49.8; 44 + 0.85·7.5 = 50.4; 46 + 0.85·5.5 = 50.7.
    expect([36, 40, 44, 46].map((boundary) => startOf(glide(from, to), boundary))).toEqual([49, 50, 50, 51]);
  });

  test('only its start moves: the note before ends where it did', () => {
    expect(atPitchCrossings(glide(60, 64), cutAt(44))).toEqual([
      { first: 0, end: 44 },
      { first: 50, end: 100 },
    ]);
  });

  test.each([52, 55, 58, 62])('a start at frame %i, after the crossing, stays', (boundary) => {
    expect(atPitchCrossings(glide(60, 64), cutAt(boundary))).toEqual(cutAt(boundary));
  });

  test('a sure onset stays before the crossing, a likely one does not', () => {
    const withOnset = (onset: number) => {
      const track = glide(60, 64);
      track.onset[44] = onset;
      return startOf(track, 44);
    };
    expect(withOnset(0.9)).toBe(44);
    expect(withOnset(0.8)).toBe(50);
  });

  test('where the voice breaks between the onset and the crossing, the onset stays', () => {
    const track = glide(60, 64);
    track.voiced.fill(0.1, 46, 48);
    expect(startOf(track, 44)).toBe(44);
  });

  test('notes with a rest of more than 100 ms between them stay, those with less do not', () => {
    const moved = (gap: number) => atPitchCrossings(glide(60, 64), cutAt(44, gap))[1]!.first;
    expect([8, 15].map(moved)).toEqual([50, 44]);
  });

  test('a repeated key, sung half a semitone higher at most, has no crossing', () => {
    expect(startOf(glide(60, 60.5), 44)).toBe(44);
    const track = trackOf([{ frames: 100, pitch: (f) => 60 + 0.2 * Math.sin(f / 3) }]);
    for (const boundary of [40, 44, 50]) expect(startOf(track, boundary)).toBe(boundary);
  });

  test('a jump from one frame to the next that overshoots is no glide', () => {
    // The tracker leaves for the octave above and comes back on the new key.
    const track = trackOf([
      { frames: 50, pitch: 60 },
      { frames: 2, pitch: 76, onset: 0 },
      { frames: 48, pitch: 64, onset: 0 },
    ]);
    expect(startOf(track, 46)).toBe(46);
  });

  test('a crossing more than 150 ms from the onset is another event', () => {
    // 35 + 0.85·16.5 = 49.0.
    expect([34, 35].map((boundary) => startOf(glide(60, 64), boundary))).toEqual([34, 49]);
  });

  test('no note becomes shorter than 40 ms, and no segments give none', () => {
    // Half-way at frame 45.5: the start would go from 44 to 44 + 0.85·3.5 = 47.0.
    const track = trackOf([
      { frames: 45, pitch: 60 },
      { frames: 2, pitch: gliding(60, 64, 2), onset: 0 },
      { frames: 53, pitch: 64, onset: 0 },
    ]);
    const ending = (end: number): Segment[] => [
      { first: 0, end: 44 },
      { first: 44, end },
    ];
    expect(atPitchCrossings(track, ending(50))).toEqual(ending(50));
    expect(atPitchCrossings(track, ending(51))[1]).toEqual({ first: 47, end: 51 });
    expect(atPitchCrossings(track, [])).toEqual([]);
  });

  test('the segments given are left alone', () => {
    const given = cutAt(44);
    expect(atPitchCrossings(glide(60, 64), given)).not.toEqual(given);
    expect(given).toEqual(cutAt(44));
  });
});
