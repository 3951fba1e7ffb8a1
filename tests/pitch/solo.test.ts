/** The solo tracker, and the notes made of its track, on voice-like tones at known times. */
import { describe, expect, test } from 'vitest';
import { notesOf } from '../../src/notes/notes-of.js';
import type { HeardNotes } from '../../src/notes/types.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { recordingOf, type Sung, sing } from './signals.js';

const RANGE = { lowestHz: 55, highestHz: 1500 };
const hear = (samples: Float32Array): HeardNotes =>
  notesOf(trackSolo(recordingOf(samples), RANGE), samples.length / 16_000);

/** Notes of 450 ms with 150 ms of silence between; the times are no multiples of a frame. */
function tune(midis: readonly number[], from = 0.5037): Sung[] {
  return midis.map((midi, i) => ({ start: from + i * 0.6, end: from + i * 0.6 + 0.45, midi }));
}
const TUNE = tune([60, 62, 64, 65, 67, 64, 60, 67]);
const SECONDS = 6;
const heardTune = hear(sing(TUNE, SECONDS));
const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;

describe('the track', () => {
  const track = trackSolo(recordingOf(sing(TUNE, SECONDS)), RANGE);
  const lasts = (i: number) => TUNE.some((n) => i * 0.01 > n.start + 0.05 && i * 0.01 < n.end - 0.05);
  const silent = (i: number) => TUNE.every((n) => i * 0.01 < n.start - 0.05 || i * 0.01 > n.end + 0.05);
  const frames = Array.from({ length: track.grid.frameCount }, (_, i) => i);

  test('every array has one value a frame, and every probability is one', () => {
    for (const values of [track.pitch, track.voiced, track.sounding, track.onset, track.levelDb]) {
      expect(values).toHaveLength(601);
    }
    for (const values of [track.voiced, track.sounding, track.onset]) {
      expect(values.every((p) => p >= 0 && p <= 1)).toBe(true);
    }
  });

  test('inside notes a pitched voice sounds and a note lasts, in silence neither', () => {
    const inside = frames.filter(lasts);
    const outside = frames.filter(silent);
    expect(inside.length).toBeGreaterThan(250);
    expect(outside.length).toBeGreaterThan(100);
    for (const values of [track.voiced, track.sounding]) {
      expect(mean(inside.map((i) => values[i]!))).toBeGreaterThan(0.8);
      expect(mean(outside.map((i) => values[i]!))).toBeLessThan(0.2);
    }
  });

  test('inside notes the pitch is within 5 cents', () => {
    for (const i of frames.filter(lasts)) {
      const { midi } = TUNE.find((n) => i * 0.01 < n.end)!;
      expect(Math.abs(track.pitch[i]! - midi)).toBeLessThan(0.05);
    }
  });
});

describe('the notes', () => {
  test('each has its key, and no other is heard', () => {
    expect(heardTune.notes.map((n) => n.midi)).toEqual(TUNE.map((n) => n.midi));
    expect(Math.abs(heardTune.tuningCents)).toBeLessThan(2);
  });

  test('each starts within 30 ms of the truth, and their mean is not off by 20 ms', () => {
    const late = heardTune.notes.map((n, i) => n.start - TUNE[i]!.start);
    for (const seconds of late) expect(Math.abs(seconds)).toBeLessThan(0.03);
    expect(Math.abs(mean(late))).toBeLessThan(0.02);
  });

  test('each ends within 60 ms of the truth', () => {
    heardTune.notes.forEach((n, i) => {
      expect(Math.abs(n.end - TUNE[i]!.end)).toBeLessThan(0.06);
    });
  });
});

describe('invariants', () => {
  test.each([0.25, 1.13])('%f s of silence before it move every note by as much', (by) => {
    const moved = TUNE.map((n) => ({ ...n, start: n.start + by, end: n.end + by }));
    const { notes } = hear(sing(moved, SECONDS + by));
    expect(notes.map((n) => n.midi)).toEqual(heardTune.notes.map((n) => n.midi));
    notes.forEach((n, i) => {
      // The noise under the tones is another one there: a frame's difference is allowed.
      expect(Math.abs(n.start - heardTune.notes[i]!.start - by)).toBeLessThan(0.0101);
      expect(Math.abs(n.end - heardTune.notes[i]!.end - by)).toBeLessThan(0.0201);
    });
  });

  test.each([-12, -5, 11])('a tune %i semitones higher has keys as much higher', (k) => {
    const { notes } = hear(
      sing(
        TUNE.map((n) => ({ ...n, midi: n.midi + k })),
        SECONDS,
      ),
    );
    expect(notes.map((n) => n.midi)).toEqual(TUNE.map((n) => n.midi + k));
  });

  test('a recording 12 dB softer has the same notes', () => {
    const soft = hear(sing(TUNE, SECONDS).map((v) => v / 4));
    expect(soft.notes.map((n) => n.midi)).toEqual(heardTune.notes.map((n) => n.midi));
    soft.notes.forEach((n, i) => {
      expect(Math.abs(n.start - heardTune.notes[i]!.start)).toBeLessThan(0.0101);
    });
  });

  test('two recordings one after the other have the notes of both', () => {
    const first = sing(TUNE, SECONDS);
    const second = sing(tune([72, 71, 69, 67, 65], 0.4), 3.9);
    const both = new Float32Array(first.length + second.length);
    both.set(first);
    both.set(second, first.length);
    const apart = [
      ...heardTune.notes,
      ...hear(second).notes.map((n) => ({ ...n, start: n.start + SECONDS, end: n.end + SECONDS })),
    ];
    const { notes } = hear(both);
    expect(notes.map((n) => n.midi)).toEqual(apart.map((n) => n.midi));
    expect(notes).toHaveLength(13);
    notes.forEach((n, i) => {
      expect(Math.abs(n.start - apart[i]!.start)).toBeLessThan(0.0101);
    });
  });
});

test('silence and an empty recording have a track without sound and no notes', () => {
  for (const length of [0, 100, 32_000]) {
    const track = trackSolo(recordingOf(new Float32Array(length)), RANGE);
    expect(track.grid.frameCount).toBe(Math.floor(length / 160) + 1);
    expect(notesOf(track, length / 16_000).notes).toEqual([]);
  }
});
