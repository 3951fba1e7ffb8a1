import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rankScales, type ScaleEvidence } from '../../src/theory/scales.js';
import { nameParts } from '../../src/theory/tonal-tables.js';
import type { ScaleCandidate } from '../../src/theory/types.js';

/** Notes of equal length, the last one ending a line. */
function melody(midis: readonly number[], weight = 1): ScaleEvidence[] {
  return midis.map((midi, i) => ({ midi, weight, lineEnd: i === midis.length - 1, confidence: 1 }));
}

function name(candidate: ScaleCandidate | undefined): string {
  return `${candidate?.tonic} ${candidate?.mode}`;
}

function tonicClass(candidate: ScaleCandidate): number {
  return nameParts(candidate.tonic)?.pitchClass ?? -1;
}

const evidence = fc.record({
  midi: fc.integer({ min: 36, max: 84 }),
  weight: fc.double({ min: 0.05, max: 4, noNaN: true }),
  lineEnd: fc.boolean(),
  confidence: fc.double({ min: 0.1, max: 1, noNaN: true }),
});
const line = fc.array(evidence, { minLength: 1, maxLength: 40 });

describe('rankScales', () => {
  test.each([
    ['C major', [60, 62, 64, 65, 67, 69, 71, 72]],
    ['A harmonic minor', [69, 71, 72, 74, 76, 77, 80, 81]],
    ['A minor', [69, 71, 72, 74, 76, 77, 79, 76, 72, 69]],
    ['D dorian', [62, 64, 65, 67, 69, 71, 69, 72, 69, 65, 62]],
    ['G mixolydian', [67, 71, 74, 77, 76, 74, 72, 71, 67, 65, 67]],
    // Five notes alone are more often a major melody that leaves two degrees out.
    ['C major', [60, 62, 64, 67, 69, 67, 64, 62, 60]],
  ])('puts %s first for %j', (expected, midis) => {
    expect(name(rankScales(melody(midis))[0])).toBe(expected);
  });

  test('a short passing note outside the scale does not overturn it, and is named', () => {
    const notes = melody([60, 62, 64, 65, 67, 69, 71, 72, 67, 64, 60]);
    const passing = { midi: 66, weight: 0.1, lineEnd: false, confidence: 1 };
    const best = rankScales([...notes.slice(0, 4), passing, ...notes.slice(4)])[0];
    expect(name(best)).toBe('C major');
    expect(best?.outside).toEqual(['F#']);
  });

  test('long notes decide between scales with the same notes', () => {
    expect(name(rankScales(melody([64, 60, 62, 64, 65, 67, 64, 62, 60]))[0])).toBe('C major');
    expect(name(rankScales(melody([64, 69, 71, 72, 74, 76, 72, 71, 69]))[0])).toBe('A minor');
  });

  test('the last note, and line ends, count for the tonic', () => {
    const scoreOfC = (notes: readonly ScaleEvidence[]): number =>
      rankScales(notes).find((c) => name(c) === 'C major')?.score ?? 0;
    const plain = melody([60, 64, 67, 69, 71, 65, 62]).map((n) => ({ ...n, lineEnd: false }));
    const endsOnC = [...plain.slice(1), ...plain.slice(0, 1)];
    expect(scoreOfC(endsOnC)).toBeGreaterThan(scoreOfC(plain));
    const withLineOnC = plain.map((n) => ({ ...n, lineEnd: n.midi === 60 }));
    expect(scoreOfC(withLineOnC)).toBeGreaterThan(scoreOfC(plain));
  });

  test('notes that are hardly sure hardly count', () => {
    const sure = melody([60, 62, 64, 65, 67, 64, 62, 60]);
    const doubtful = [61, 66, 68, 70].map((midi) => ({ midi, weight: 3, lineEnd: false, confidence: 0.01 }));
    expect(name(rankScales([...doubtful, ...sure])[0])).toBe('C major');
    const believed = doubtful.map((n) => ({ ...n, confidence: 1 }));
    expect(name(rankScales([...believed, ...sure])[0])).not.toBe('C major');
  });

  test('deciders are the notes that one of the scale and its nearest rival holds and the other does not', () => {
    const ranked = rankScales(melody([60, 62, 64, 65, 67, 64, 62, 60]));
    const classes = (names: readonly string[]): Set<number> =>
      new Set(names.map((n) => nameParts(n)?.pitchClass ?? -1));
    const own = classes(ranked[0]?.notes ?? []);
    const rival = ranked
      .slice(1)
      .find((c) => [...classes(c.notes)].some((pc) => !own.has(pc)) || c.notes.length < own.size);
    const others = classes(rival?.notes ?? []);
    const expected = Array.from({ length: 12 }, (_, pc) => pc).filter((pc) => own.has(pc) !== others.has(pc));
    expect([...classes(ranked[0]?.deciders ?? [])].sort((a, b) => a - b)).toEqual(expected);
    expect(expected.length).toBeGreaterThan(0);
  });

  test('a given key comes first under its own name, and the rest stay in order', () => {
    const notes = melody([60, 62, 64, 65, 67, 64, 62, 60]);
    const ranked = rankScales(notes, { tonic: 'F#', mode: 'major' });
    expect(name(ranked[0])).toBe('F# major');
    expect(ranked[0]?.notes).toEqual(['F#', 'G#', 'A#', 'B', 'C#', 'D#', 'E#']);
    expect(name(ranked[1])).toBe(name(rankScales(notes)[0]));
  });

  test('says where a decider is sung, and where it never is', () => {
    const best = rankScales(melody([60, 62, 64, 65, 67, 71, 67, 64, 62, 60]))[0];
    expect(name(best)).toBe('C major');
    expect(best?.decidersAt.map((d) => d.name)).toEqual(best?.deciders);
    const numbers: Record<number, number[]> = {
      0: [1, 10],
      2: [2, 9],
      4: [3, 8],
      5: [4],
      7: [5, 7],
      11: [6],
    };
    for (const { name: decider, numbers: at } of best?.decidersAt ?? []) {
      expect(at).toEqual(numbers[nameParts(decider)?.pitchClass ?? -1] ?? []);
    }
    expect(best?.rival).not.toBeNull();
  });

  test('says where an outside note is, what key of the scale is next to it, and that it may be misheard', () => {
    const notes = melody([60, 62, 64, 65, 66, 67, 69, 71, 72, 67, 64, 60, 66, 60]);
    const doubted = notes.map((n, i) => (i === 4 ? { ...n, confidence: 0.3 } : n));
    const best = rankScales(doubted)[0];
    expect(name(best)).toBe('C major');
    expect(best?.outsideAt).toEqual([{ name: 'F#', numbers: [5, 13], doubtful: [5], nextTo: ['F', 'G'] }]);
  });

  test('scales that the notes cannot tell apart share a place', () => {
    const places = rankScales([]).map((c) => c.place);
    expect(places.slice(0, 12)).toEqual(new Array(12).fill(1));
    const clear = rankScales(melody([60, 62, 64, 65, 67, 69, 71, 72, 67, 64, 60])).map((c) => c.place);
    expect(clear.slice(0, 2)).toEqual([1, 2]);
  });

  test('five notes that lie in two keys are not claimed for one', () => {
    const [best] = rankScales(melody([65, 67, 69, 60, 62]));
    expect(best?.score).toBeLessThan(0.5);
  });

  test('the same notes sung more often make the tonic surer', () => {
    const onC = (notes: readonly ScaleEvidence[]): number =>
      rankScales(notes).reduce((sum, c) => sum + (tonicClass(c) === 0 ? c.score : 0), 0);
    const once = melody([60, 64, 67, 65, 62, 60]).map((n) => ({ ...n, lineEnd: true }));
    const often = Array.from({ length: 10 }, () => once).flat();
    expect(onC(often)).toBeGreaterThan(onC(once) + 0.2);
  });

  test('without notes every score is still a number', () => {
    const ranked = rankScales([]);
    expect(ranked.every((c) => Number.isFinite(c.score))).toBe(true);
  });

  test('scores are ordered probabilities over twelve tonics of twelve modes', () => {
    fc.assert(
      fc.property(line, (notes) => {
        const scores = rankScales(notes).map((c) => c.score);
        expect(scores).toHaveLength(144);
        expect(scores.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
        expect(scores).toEqual([...scores].sort((a, b) => b - a));
      }),
      { numRuns: 15 },
    );
  });

  test('an octave changes nothing', () => {
    fc.assert(
      fc.property(line, (notes) => {
        expect(rankScales(notes.map((n) => ({ ...n, midi: n.midi + 12 })))).toEqual(rankScales(notes));
      }),
      { numRuns: 15 },
    );
  });

  test('the ranking moves with the melody', () => {
    const first = fc.integer({ min: 1, max: 11 });
    fc.assert(
      fc.property(line, first, (notes, shift) => {
        const score = (ranked: ScaleCandidate[], tonic: number, mode: string): number =>
          ranked.find((c) => tonicClass(c) === tonic && c.mode === mode)?.score ?? Number.NaN;
        const here = rankScales(notes);
        const there = rankScales(notes.map((n) => ({ ...n, midi: n.midi + shift })));
        for (const c of here) {
          expect(score(there, (tonicClass(c) + shift) % 12, c.mode)).toBeCloseTo(c.score, 9);
        }
      }),
      { numRuns: 15 },
    );
  });
});
