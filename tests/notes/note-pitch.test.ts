import { describe, expect, test } from 'vitest';
import { notePitch } from '../../src/notes/note-pitch.js';
import { type Part, swinging, trackOf } from './tracks.js';

const of = (...parts: Part[]) => {
  const track = trackOf(parts);
  return notePitch(track, { first: 0, end: track.grid.frameCount });
};

describe('notePitch', () => {
  test('a held note has its pitch and no spread', () => {
    const held = of({ frames: 30, pitch: 60.25 });
    expect(held).toEqual({ pitch: 60.25, spreadSemitones: 0 });
  });

  test('it is the median: a quarter of the frames an octave off moves nothing', () => {
    const found = of({ frames: 45, pitch: 60 }, { frames: 15, pitch: 72, onset: 0 });
    expect(found?.pitch).toBe(60);
  });

  test('whole turns of a vibrato leave the pitch at its centre', () => {
    // 5 Hz at 10 ms: one turn is 20 frames.
    expect(of({ frames: 84, pitch: swinging(60, 0.5, 5) })?.pitch).toBeCloseTo(60, 1);
  });

  test('the first 40 ms do not count, on the way from below', () => {
    // The median of the last twelve is 61; of all sixteen it would be 60.
    const found = of(
      { frames: 4, pitch: 55 },
      { frames: 6, pitch: 60, onset: 0 },
      { frames: 6, pitch: 61, onset: 0 },
    );
    expect(found?.pitch).toBe(61);
  });

  test('of a very short note three quarters count', () => {
    // Eight frames, two of approach: of the other six the fourth from below.
    const rising = of(
      { frames: 2, pitch: 55 },
      { frames: 3, pitch: 60, onset: 0 },
      { frames: 3, pitch: 61, onset: 0 },
    );
    expect(rising?.pitch).toBe(61);
    // With four frames of approach it would be 60.
    expect(of({ frames: 5, pitch: 61 }, { frames: 3, pitch: 60, onset: 0 })?.pitch).toBe(61);
  });

  test('the spread is half the range of the middle half: a quarter of a rise of one semitone', () => {
    const found = of({ frames: 4, pitch: 60 }, { frames: 100, pitch: (f) => 60 + f / 100, onset: 0 });
    expect(found?.spreadSemitones).toBeCloseTo(0.25, 1);
    expect(found?.pitch).toBeCloseTo(60.5, 1);
  });

  test('unvoiced frames do not count while there are voiced ones', () => {
    const parts: Part[] = [
      { frames: 40, pitch: 70, voiced: 0.4 },
      { frames: 20, pitch: 60, onset: 0, voiced: 0.9 },
    ];
    expect(of(...parts)?.pitch).toBe(60);
    expect(of(parts[0]!)?.pitch).toBe(70);
  });

  test('frames without a pitch do not count, and a note of none has no pitch', () => {
    expect(of({ frames: 10, pitch: Number.NaN }, { frames: 10, pitch: 62, onset: 0 })?.pitch).toBe(62);
    expect(of({ frames: 10, pitch: Number.NaN })).toBeNull();
  });

  test('only the frames of the segment are asked', () => {
    const track = trackOf([
      { frames: 20, pitch: 50 },
      { frames: 20, pitch: 60 },
      { frames: 20, pitch: 70 },
    ]);
    expect(notePitch(track, { first: 20, end: 40 })?.pitch).toBe(60);
  });
});
