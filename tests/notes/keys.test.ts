import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { chooseKeys, type SungPitch } from '../../src/notes/keys.js';

/** Half a second a note; `offset` in semitones for the note that starts at a time in seconds. */
function sung(keys: readonly number[], offset: (seconds: number) => number): SungPitch[] {
  return keys.map((key, i) => ({ start: i * 0.6, end: i * 0.6 + 0.5, pitch: key + offset(i * 0.6) }));
}

const TUNE = [60, 62, 64, 65, 67, 67, 69, 65, 64, 62, 60, 67, 65, 64, 62, 60];
const midis = (notes: readonly SungPitch[]) => chooseKeys(notes).keys.map((k) => k.midi);
const long = (count: number) => Array.from({ length: count }, (_, i) => TUNE[i % TUNE.length]!);

describe('chooseKeys', () => {
  test('notes on the keys are those keys, surely, and the tuning is 0', () => {
    const { keys, tuningCents } = chooseKeys(sung(TUNE, () => 0));
    expect(keys.map((k) => k.midi)).toEqual(TUNE);
    for (const { probability } of keys) expect(probability).toBeGreaterThan(0.9);
    expect(tuningCents).toBeCloseTo(0, 6);
  });

  test.each([-40, -35, -20, 20, 35, 40])('a singer %i cents off keeps the keys', (cents) => {
    const { keys, tuningCents } = chooseKeys(sung(TUNE, () => cents / 100));
    expect(keys.map((k) => k.midi)).toEqual(TUNE);
    expect(tuningCents).toBeCloseTo(cents, 6);
  });

  test('a singer 35 cents sharp who misses every note by 20 cents or so keeps the keys', () => {
    const random = seededRandom(6);
    const { keys, tuningCents } = chooseKeys(sung(long(48), () => 0.35 + 0.2 * random.gauss()));
    const right = keys.filter((k, i) => k.midi === long(48)[i]).length;
    expect(right / keys.length).toBeGreaterThan(0.9);
    expect(Math.abs(tuningCents - 35)).toBeLessThan(10);
  });

  test.each([-80, 80])('a voice that drifts by %i cents within a minute keeps the keys', (cents) => {
    expect(midis(sung(long(100), (t) => (cents / 100) * (t / 60)))).toEqual(long(100));
  });

  test.each([-70, 70])(
    'a voice that holds its pitch for a minute, then drifts by %i cents, is followed',
    (cents) => {
      // No fixed tuning puts both the first and the last notes nearest to their keys.
      const offset = (t: number) => ((cents / 100) * Math.max(0, t - 60)) / 60;
      expect(midis(sung(long(200), offset))).toEqual(long(200));
    },
  );

  test('a note half-way between two keys is doubtful between just those two', () => {
    const notes = sung(TUNE, () => 0).map((n, i) => (i === 4 ? { ...n, pitch: 67.5 } : n));
    const { midi, other, probability, otherProbability } = chooseKeys(notes).keys[4]!;
    expect([midi, other].sort()).toEqual([67, 68]);
    expect(probability).toBeLessThan(0.7);
    expect(probability + otherProbability).toBeGreaterThan(0.95);
  });

  test('the runner-up is on the side on which the note lies', () => {
    const off = (by: number) => sung(TUNE, () => 0).map((n, i) => (i === 4 ? { ...n, pitch: 67 + by } : n));
    expect(chooseKeys(off(0.35)).keys[4]).toMatchObject({ midi: 67, other: 68 });
    expect(chooseKeys(off(-0.35)).keys[4]).toMatchObject({ midi: 67, other: 66 });
  });

  test('the further a note lies from its key, the less likely the key', () => {
    const at = (by: number) =>
      chooseKeys(sung(TUNE, () => 0).map((n, i) => (i === 4 ? { ...n, pitch: 67 + by } : n))).keys[4]!;
    const falling = [0, 0.1, 0.2, 0.3, 0.4].map((by) => at(by).probability);
    expect(falling).toEqual(falling.toSorted((a, b) => b - a));
    expect(new Set(falling).size).toBe(5);
  });

  test('a single note takes the nearest key, and no notes have none', () => {
    expect(midis([{ start: 0, end: 1, pitch: 64.2 }])).toEqual([64]);
    expect(chooseKeys([])).toEqual({ keys: [], tuningCents: 0 });
  });

  test('properties: probabilities are ranked and within 0..1, keys near, the tuning within half a semitone', () => {
    const note = fc.record({
      gap: fc.double({ min: 0, max: 30, noNaN: true }),
      length: fc.double({ min: 0.05, max: 5, noNaN: true }),
      pitch: fc.double({ min: 20, max: 110, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(note, { maxLength: 30 }), (steps) => {
        let time = 0;
        const notes = steps.map(({ gap, length, pitch }) => {
          const start = time + gap;
          time = start + length;
          return { start, end: time, pitch };
        });
        const { keys, tuningCents } = chooseKeys(notes);
        expect(keys).toHaveLength(notes.length);
        keys.forEach((k, i) => {
          expect(k.probability).toBeGreaterThanOrEqual(k.otherProbability);
          expect(k.otherProbability).toBeGreaterThanOrEqual(0);
          expect(k.probability + k.otherProbability).toBeLessThanOrEqual(1 + 1e-9);
          expect(k.other).not.toBe(k.midi);
          expect(Number.isInteger(k.midi) && Number.isInteger(k.other)).toBe(true);
          // The reference may lie 1.2 semitones away, the key one from there.
          expect(Math.abs(k.midi - notes[i]!.pitch)).toBeLessThan(2.3);
        });
        expect(Math.abs(tuningCents)).toBeLessThanOrEqual(50);
      }),
      { numRuns: 50 },
    );
  });

  test('k semitones higher every key is k higher, as likely', () => {
    const random = seededRandom(12);
    const notes = sung(TUNE, () => 0.1 + 0.15 * random.gauss());
    const higher = chooseKeys(notes.map((n) => ({ ...n, pitch: n.pitch + 5 }))).keys;
    chooseKeys(notes).keys.forEach((k, i) => {
      expect(higher[i]!.midi).toBe(k.midi + 5);
      expect(higher[i]!.probability).toBeCloseTo(k.probability, 6);
    });
  });
});
