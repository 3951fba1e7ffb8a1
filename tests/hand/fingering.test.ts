import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fingerRightHand } from '../../src/hand/fingering.js';
import { isPlayable } from '../../src/hand/rules.js';
import { spanTable } from '../../src/hand/spans.js';
import type { Finger, FingerNote } from '../../src/hand/types.js';
import type { Line } from '../../src/rhythm/types.js';

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
  test('no notes have no fingers, and one key takes the middle finger', () => {
    expect(fingers([])).toEqual([]);
    expect(fingers([60])).toEqual([3]);
    expect(fingers([61, 61, 61])).toEqual([3, 3, 3]);
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

  test('a tune within a sixth lies under one position', () => {
    expect(fingers([67, 65, 69, 60, 62])).toEqual([4, 3, 5, 1, 2]);
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
          // A key that is struck again may take another finger: that is no stretch.
          if (m1 !== m2) expect(isPlayable(spans, f1, m1, f2, m2)).toBe(true);
        }
      }),
      { numRuns: 50, examples: [[[55, 55, 50, 50, 47, 42, 39]]] },
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

  test('time grows with length: thousands of notes are no trouble', () => {
    expect(fingers(Array.from({ length: 4000 }, (_, i) => 60 + ((i * 7) % 13)))).toHaveLength(4000);
  });

  test('a tune on five neighbouring keys takes five fingers in every key', () => {
    const tune = [64, 64, 65, 67, 67, 65, 64, 62, 60, 60, 62, 64, 64, 62, 62];
    for (let shift = -6; shift < 6; shift++) {
      expect(fingers(tune.map((midi) => midi + shift))).toEqual([
        3, 3, 4, 5, 5, 4, 3, 2, 1, 1, 2, 3, 3, 2, 2,
      ]);
    }
  });

  test('a smaller hand takes fingers farther apart for the same leap', () => {
    const leaps = [60, 69, 60, 72, 60, 74];
    for (const hand of ['small', 'medium', 'large'] as const) {
      const found = fingers(leaps, hand);
      const spans = spanTable(hand);
      leaps.slice(1).forEach((midi, i) => {
        expect(isPlayable(spans, found[i]!, leaps[i]!, found[i + 1]!, midi)).toBe(true);
      });
    }
    // A major tenth with the fourth finger is out of reach for small hands only.
    expect(spanTable('large')(1, 4).maxPrac - spanTable('small')(1, 4).maxPrac).toBe(2);
  });
});

describe('settled fingers', () => {
  const midis = [60, 62, 64, 65, 67, 65, 64, 62, 60];
  const open: null[] = midis.map(() => null);

  test('stand, and the rest is worked out around them', () => {
    const fixed: (Finger | null)[] = [...open];
    fixed[3] = 1;
    const found = fingerRightHand(played(midis), { hand: 'medium', fixed });
    expect(found[3]).toBe(1);
    expect(found.slice(0, 3)).toEqual([1, 2, 3]);
    expect(found[4]).not.toBe(1);
  });

  test('stand even against the reach of the hand and the handbook', () => {
    const scale = [60, 62, 64, 65, 67, 69, 71, 72];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(null, 1, 2, 3, 4, 5), { minLength: 8, maxLength: 8 }), (words) => {
        const fixed = words as (Finger | null)[];
        const found = fingerRightHand(played(scale), { hand: 'small', fixed });
        fixed.forEach((finger, i) => {
          if (finger !== null) expect(found[i]).toBe(finger);
        });
      }),
      { numRuns: 50 },
    );
  });

  test('the finger of the first note can be said, and one that is settled there wins', () => {
    for (const fromFinger of [1, 2, 3, 4, 5] as const) {
      expect(fingerRightHand(played(midis), { hand: 'medium', fromFinger })[0]).toBe(fromFinger);
    }
    const fixed: (Finger | null)[] = [2, ...open.slice(1)];
    expect(fingerRightHand(played(midis), { hand: 'medium', fixed, fromFinger: 4 })[0]).toBe(2);
    expect(fingerRightHand([], { hand: 'medium', fromFinger: 4 })).toEqual([]);
  });
});

describe('lines', () => {
  const tune = [60, 64, 67, 69, 67, 65, 62, 64];
  function lines(count: number, size: number): Line[] {
    return Array.from({ length: count }, (_, k) => ({
      start: k * size * 0.5,
      end: (k + 1) * size * 0.5,
      first: k * size + 1,
      last: (k + 1) * size,
      like: k === 0 ? null : 1,
    }));
  }

  test('one that comes again keeps its fingers, whatever lies between', () => {
    const again = fingerRightHand(played([...tune, ...tune]), { hand: 'medium', lines: lines(2, 8) });
    expect(again.slice(8)).toEqual(again.slice(0, 8));
    // A settled finger in the first is copied with the rest.
    const fixed: (Finger | null)[] = [...tune, ...tune].map((_, i) => (i === 3 ? 5 : null));
    const copied = fingerRightHand(played([...tune, ...tune]), { hand: 'medium', lines: lines(2, 8), fixed });
    expect(copied[11]).toBe(5);
  });

  test('one that is like one that comes again takes the fingers of the first', () => {
    const three = lines(3, 8).map((line, k) => ({ ...line, like: k === 0 ? null : k }));
    const fixed: (Finger | null)[] = Array.from({ length: 24 }, (_, i) => (i === 3 ? 4 : i === 0 ? 2 : null));
    const found = fingerRightHand(played([...tune, ...tune, ...tune]), {
      hand: 'medium',
      lines: three,
      fixed,
    });
    expect(found.slice(8, 16)).toEqual(found.slice(0, 8));
    // The last note of all leads nowhere and may differ.
    expect(found.slice(16, 23)).toEqual(found.slice(0, 7));
  });

  test('one that comes again on other white keys keeps them too, once the hand is free', () => {
    const line = [60, 62, 64, 62, 60, 62, 64, 60];
    const first = played(line);
    const second = played(line.map((midi) => midi + 7)).map((n) => ({
      ...n,
      start: n.start + 5,
      end: n.end + 5,
    }));
    const found = fingerRightHand([...first, ...second], { hand: 'medium', lines: lines(2, 8) });
    expect(found.slice(8)).toEqual(found.slice(0, 8));
  });

  test('before a new line a long note lets the hand move', () => {
    const notes: FingerNote[] = [
      { midi: 60, start: 0, end: 0.5 },
      { midi: 64, start: 0.5, end: 1 },
      { midi: 67, start: 1, end: 2 },
      { midi: 79, start: 2, end: 2.5 },
      { midi: 83, start: 2.5, end: 3 },
      { midi: 86, start: 3, end: 3.5 },
    ];
    const two: Line[] = [
      { start: 0, end: 2, first: 1, last: 3, like: null },
      { start: 2, end: 3.5, first: 4, last: 6, like: null },
    ];
    const found = fingerRightHand(notes, { hand: 'medium', lines: two });
    expect(found.slice(3)).toEqual([1, 3, 5]);
    // Without the line the hand has no time, and the octave must be reached.
    expect(fingerRightHand(notes, { hand: 'medium' }).slice(3)).not.toEqual([1, 3, 5]);
  });
});
