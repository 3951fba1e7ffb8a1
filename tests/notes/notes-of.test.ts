import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { notesOf } from '../../src/notes/notes-of.js';
import { type Part, trackOf } from './tracks.js';

const rest = (frames: number): Part => ({ frames, pitch: null });
const tune = (midis: readonly number[], off = 0): Part[] => [
  rest(50),
  ...midis.flatMap((midi): Part[] => [{ frames: 40, pitch: midi + off }, rest(10)]),
  rest(50),
];
const heard = (parts: readonly Part[]) => {
  const track = trackOf(parts);
  return notesOf(track, track.grid.frameCount * 0.01);
};
const TUNE = [60, 62, 64, 65, 67, 65, 64, 62];

describe('notesOf', () => {
  test('each note has its times, its key and its pitch as sung', () => {
    const { notes, tuningCents, seconds } = heard(tune(TUNE, 0.25));
    expect(seconds).toBeCloseTo(5, 9);
    expect(tuningCents).toBeCloseTo(25, 4);
    expect(notes.map((n) => n.midi)).toEqual(TUNE);
    notes.forEach((n, i) => {
      expect(n.start).toBeCloseTo(0.5 + 0.5 * i, 9);
      expect(n.end).toBeCloseTo(0.9 + 0.5 * i, 9);
      expect(n.pitch).toBeCloseTo(TUNE[i]! + 0.25, 5);
    });
  });

  test('notes on their keys have no other key; one half-way names its neighbour and is less sure', () => {
    const off = [...TUNE];
    off[3] = 65.5;
    const { notes } = heard(tune(off));
    expect([65, 66]).toContain(notes[3]!.midi);
    expect(notes[3]!.other).toBe(131 - notes[3]!.midi);
    for (const i of [0, 1, 6, 7]) expect(notes[i]!.confidence).toBeGreaterThan(notes[3]!.confidence);
    expect(heard(tune(TUNE)).notes.map((n) => n.other)).toEqual(TUNE.map(() => null));
  });

  test('a track of rests has no notes', () => {
    expect(heard([rest(100)])).toEqual({ notes: [], tuningCents: 0, seconds: 1 });
  });

  test('a last note ends with the recording, though its last frame reaches further', () => {
    const { notes } = notesOf(trackOf([rest(50), { frames: 50, pitch: 60 }]), 0.993);
    expect(notes.at(-1)!.end).toBe(0.993);
  });

  test('pitches off the keys of MIDI give no note', () => {
    expect(heard(tune([135, 135, 135])).notes).toEqual([]);
  });

  const part: fc.Arbitrary<Part> = fc.record({
    frames: fc.integer({ min: 1, max: 80 }),
    pitch: fc.oneof(fc.constant(null), fc.double({ min: 30, max: 100, noNaN: true })),
    onset: fc.double({ min: 0, max: 1, noNaN: true }),
    voiced: fc.double({ min: 0, max: 1, noNaN: true }),
    sounding: fc.double({ min: 0, max: 1, noNaN: true }),
  });

  test('on any track: in order, not overlapping, within the recording, confidences 0..1, other ≠ key', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 15 }), (parts) => {
        const track = trackOf(parts);
        // The last frame is centred on the recording's last hop.
        const length = (track.grid.frameCount - 1) * 0.01;
        const { notes, tuningCents, seconds } = notesOf(track, length);
        expect(seconds).toBe(length);
        expect(Math.abs(tuningCents)).toBeLessThanOrEqual(50);
        notes.forEach((n, i) => {
          expect(n.start).toBeGreaterThanOrEqual(i === 0 ? 0 : notes[i - 1]!.end - 1e-9);
          expect(n.end).toBeGreaterThan(n.start);
          expect(n.end).toBeLessThanOrEqual(length);
          expect(Number.isInteger(n.midi) && n.midi >= 0 && n.midi <= 127).toBe(true);
          expect(n.confidence).toBeGreaterThanOrEqual(0);
          expect(n.confidence).toBeLessThanOrEqual(1);
          expect(n.other).not.toBe(n.midi);
        });
      }),
    );
  });

  test('the track is left alone', () => {
    const track = trackOf(tune(TUNE));
    notesOf(track, 5);
    expect(track).toEqual(trackOf(tune(TUNE)));
  });
});
