import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SEGMENT_MODEL, segment } from '../../src/notes/segment.js';
import { gliding, type Part, swinging, trackOf } from './tracks.js';

const note = (frames: number, pitch: Part['pitch'], more: Partial<Part> = {}): Part => ({
  frames,
  pitch,
  ...more,
});
const rest = (frames: number): Part => ({ frames, pitch: null });
const firsts = (parts: readonly Part[]) => segment(trackOf(parts)).map((s) => s.first);

describe('segment', () => {
  test('two notes with an onset each, between rests, start and end at their frames', () => {
    const found = segment(trackOf([rest(30), note(40, 60), rest(20), note(50, 64), rest(30)]));
    expect(found).toEqual([
      { first: 30, end: 70 },
      { first: 90, end: 140 },
    ]);
  });

  test('joined notes on two keys: the second starts where the first ends', () => {
    const found = segment(trackOf([rest(30), note(40, 60), note(50, 64), rest(30)]));
    expect(found).toEqual([
      { first: 30, end: 70 },
      { first: 70, end: 120 },
    ]);
  });

  test('repeated notes on one key are told apart by their onsets', () => {
    expect(firsts([rest(10), note(30, 62), note(30, 62), note(30, 62), rest(10)])).toEqual([10, 40, 70]);
  });

  test.each([
    [0.3, 5],
    [0.5, 5.5],
    [0.8, 6],
  ])('a vibrato of ±%f semitones at %f Hz is one note', (depth, hz) => {
    expect(segment(trackOf([rest(20), note(200, swinging(60, depth, hz)), rest(20)]))).toEqual([
      { first: 20, end: 220 },
    ]);
  });

  test('a scoop from two semitones below belongs to its note', () => {
    const scoop = (f: number) => 60 - 2 * Math.exp(-f / 4);
    expect(firsts([rest(20), note(60, scoop), rest(20)])).toEqual([20]);
  });

  test('weak evidence of an onset is enough where the key changes, and not where it stays', () => {
    const weak = { onset: 0.1 };
    expect(firsts([rest(20), note(60, 60), note(60, 65, weak), rest(20)])).toEqual([20, 80]);
    expect(firsts([rest(20), note(60, 60), note(60, 60, weak), rest(20)])).toEqual([20]);
  });

  test('a model that gives pitch no weight does not cut on it', () => {
    const track = trackOf([rest(20), note(60, 60), note(60, 65, { onset: 0.1 }), rest(20)]);
    expect(segment(track, { ...SEGMENT_MODEL, pitchWeight: 0, onsetThreshold: 0 })).toHaveLength(1);
  });

  test('a note that begins to sound without an onset is a note all the same', () => {
    expect(firsts([rest(30), note(60, 60, { onset: 0 }), rest(30)])).toEqual([30]);
  });

  test('a break of the voice with an onset on each side is a rest', () => {
    const [first, second] = segment(trackOf([note(40, 60), rest(15), note(40, 60), rest(5)]));
    expect(first).toEqual({ first: 0, end: 40 });
    expect(second?.first).toBe(55);
  });

  test('a short weakening inside a note, without an onset after it, does not end the note', () => {
    const dip = note(3, 60, { onset: 0, voiced: 0.3, sounding: 0.3 });
    expect(firsts([rest(20), note(40, 60), dip, note(40, 60, { onset: 0 }), rest(20)])).toEqual([20]);
  });

  test('a note ends where a note is barely likelier than none, not only where none is likelier', () => {
    // Natural log odds of 0.6: 0.41, of 0.8: 1.39; the threshold lies at 1.
    const fading = (sounding: number) => {
      const tail = note(30, 60, { onset: 0, sounding });
      return trackOf([rest(20), note(40, 60), tail, rest(20)]);
    };
    expect(segment(fading(0.6))).toEqual([{ first: 20, end: 60 }]);
    expect(segment(fading(0.8))).toEqual([{ first: 20, end: 90 }]);
    expect(segment(fading(0.6), { ...SEGMENT_MODEL, soundingThreshold: 0 })).toEqual([
      { first: 20, end: 90 },
    ]);
  });

  test('30 ms of sound with hardly an onset are no note', () => {
    expect(firsts([rest(30), note(3, 60, { onset: 0.05 }), rest(30)])).toEqual([]);
    expect(firsts([rest(30), note(20, 60), rest(30)])).toEqual([30]);
  });

  test('a very short note needs a plainer onset than one of 150 ms', () => {
    const first = (frames: number, onset: number) =>
      firsts([rest(30), note(frames, 60, { onset }), rest(30)]);
    expect(first(6, 0.5)).toEqual([]);
    expect(first(6, 0.9)).toEqual([30]);
    expect(first(15, 0.5)).toEqual([30]);
  });

  test('no notes in rests, nor in a single frame', () => {
    expect(segment(trackOf([rest(200)]))).toEqual([]);
    expect(segment(trackOf([rest(1)]))).toEqual([]);
  });

  test('a track without any pitch does not break', () => {
    expect(segment(trackOf([note(50, Number.NaN, { voiced: 0.01 })])).length).toBeLessThanOrEqual(1);
  });

  test('a joined glide between two keys makes no third note', () => {
    const parts = [note(50, 60), note(8, gliding(60, 65, 8), { onset: 0 }), note(50, 65, { onset: 0.5 })];
    expect(firsts([rest(20), ...parts, rest(20)])).toHaveLength(2);
  });
});

const part: fc.Arbitrary<Part> = fc.record({
  frames: fc.integer({ min: 1, max: 60 }),
  pitch: fc.oneof(fc.constant(null), fc.double({ min: 40, max: 80, noNaN: true })),
  onset: fc.double({ min: 0, max: 1, noNaN: true }),
  voiced: fc.double({ min: 0, max: 1, noNaN: true }),
  sounding: fc.double({ min: 0, max: 1, noNaN: true }),
});

test('on any track notes are in order, apart, inside the track and at least 50 ms long', () => {
  fc.assert(
    fc.property(fc.array(part, { minLength: 1, maxLength: 20 }), (parts) => {
      const track = trackOf(parts);
      const found = segment(track);
      found.forEach(({ first, end }, k) => {
        expect(first).toBeGreaterThanOrEqual(k === 0 ? 0 : found[k - 1]!.end);
        expect(end - first).toBeGreaterThanOrEqual(5);
        expect(end).toBeLessThanOrEqual(track.grid.frameCount);
      });
    }),
  );
});

test('rest before a track moves its notes by as many frames, and a track twice over has its notes twice', () => {
  const parts = [rest(40), note(30, 60), note(40, 62), note(25, 62), rest(40)];
  const once = segment(trackOf(parts));
  const moved = (by: number) => once.map((s) => ({ first: s.first + by, end: s.end + by }));
  expect(once).toHaveLength(3);
  expect(segment(trackOf([rest(77), ...parts]))).toEqual(moved(77));
  expect(segment(trackOf([...parts, ...parts]))).toEqual([...once, ...moved(175)]);
});
