import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FingerNote, fingerRightHand } from '../../src/hand/fingering.js';
import { isPlayable } from '../../src/hand/rules.js';
import { spanTable } from '../../src/hand/spans.js';

/** Notes half a second apart, each ending just before the next. */
function played(midis: readonly number[]): FingerNote[] {
  return midis.map((midi, i) => ({ midi, start: i * 0.5, end: i * 0.5 + 0.45 }));
}

function fingers(midis: readonly number[], hand: 'small' | 'medium' | 'large' = 'medium'): number[] {
  return fingerRightHand(played(midis), { hand });
}

/** Random walk by steps of up to a fourth, which thumb and second finger can always take in turn. */
const line = fc
  .tuple(fc.integer({ min: 55, max: 70 }), fc.array(fc.integer({ min: -5, max: 5 }), { maxLength: 60 }))
  .map(([first, steps]) => {
    const midis = [first];
    for (const step of steps) midis.push((midis.at(-1) ?? first) + step);
    return midis;
  });

describe('fingerRightHand', () => {
  test('no notes have no fingers, and one white key takes the thumb', () => {
    expect(fingers([])).toEqual([]);
    expect(fingers([60])).toEqual([1]);
  });

  test('a five-finger tune stays in one position', () => {
    expect(fingers([60, 62, 64, 65, 67, 65, 64, 62, 60])).toEqual([1, 2, 3, 4, 5, 4, 3, 2, 1]);
  });

  test('a repeated key keeps its finger', () => {
    const found = fingers([60, 60, 62, 64, 64, 64, 65, 67, 67]);
    expect(found).toEqual([1, 1, 2, 3, 3, 3, 4, 5, 5]);
  });

  test('a black key does not take the thumb where another finger is at hand', () => {
    expect(fingers([64, 66, 68, 66, 64])).not.toContain(undefined);
    expect(fingers([64, 66, 68, 66, 64])[1]).not.toBe(1);
    expect(fingers([64, 66, 68, 66, 64])[2]).not.toBe(1);
  });

  test('a rest lets the hand be set down anew', () => {
    const from = (midis: readonly number[], start: number): FingerNote[] =>
      played(midis).map((n) => ({ midi: n.midi, start: n.start + start, end: n.end + start }));
    const first = [60, 62, 64, 65, 67];
    for (const second of [
      [72, 74, 76, 77, 79],
      [65, 67, 69, 71, 72],
    ]) {
      const found = fingerRightHand([...from(first, 0), ...from(second, 5)], { hand: 'medium' });
      expect(found).toEqual([1, 2, 3, 4, 5, 1, 2, 3, 4, 5]);
    }
    // Without the rest the second position is too near to jump to.
    expect(fingers([...first, 65, 67, 69, 71, 72])).not.toEqual([1, 2, 3, 4, 5, 1, 2, 3, 4, 5]);
  });

  test('three, four and five in succession are avoided where two and three can do it', () => {
    const found = fingers([67, 65, 69, 60, 62]);
    expect(found.slice(0, 3).some((f) => f <= 2)).toBe(true);
  });

  test('a leap beyond the hand still gets fingers', () => {
    const found = fingers([48, 84, 48, 84]);
    expect(found).toHaveLength(4);
    expect(found.every((f) => f >= 1 && f <= 5)).toBe(true);
  });

  test('thumb and little finger reach a minor tenth, in a large hand a major one', () => {
    // MaxPrac of 1-5 is 15 semitones, 14 in a small hand, 16 in a large one.
    expect(fingers([60, 76], 'large')).toEqual([1, 5]);
    expect(fingers([60, 75], 'medium')).toEqual([1, 5]);
  });

  test('one finger never plays two different keys in succession', () => {
    fc.assert(
      fc.property(line, (midis) => {
        const found = fingers(midis);
        for (let i = 1; i < midis.length; i++) {
          if (midis[i] !== midis[i - 1]) expect(found[i]).not.toBe(found[i - 1]);
        }
      }),
      { numRuns: 50 },
    );
  });

  test('no two successive keys are beyond the practical span where a legal way exists', () => {
    const spans = spanTable('medium');
    fc.assert(
      fc.property(line, (midis) => {
        const found = fingers(midis);
        for (let i = 1; i < midis.length; i++) {
          const [f1, m1, f2, m2] = [found[i - 1] ?? 0, midis[i - 1] ?? 0, found[i] ?? 0, midis[i] ?? 0];
          expect(isPlayable(spans, f1, m1, f2, m2)).toBe(true);
        }
      }),
      { numRuns: 50 },
    );
  });

  test('an octave changes no finger', () => {
    fc.assert(
      fc.property(line, (midis) => {
        expect(fingers(midis.map((m) => m + 12))).toEqual(fingers(midis));
      }),
      { numRuns: 50 },
    );
  });

  test('time grows with length, not faster: thousands of notes are quick', () => {
    const long = Array.from({ length: 4000 }, (_, i) => 60 + ((i * 7) % 13));
    const started = performance.now();
    expect(fingers(long)).toHaveLength(4000);
    // 50 ms a thousand notes is the target; ten times that allows for a busy machine.
    expect(performance.now() - started).toBeLessThan(2000);
  });
});
