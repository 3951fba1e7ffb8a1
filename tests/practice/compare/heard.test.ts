/** What is heard may be misheard: doubtful keys, faint notes, repeated keys that run together, dips. */
import { describe, expect, test } from 'vitest';
import { compare } from '../../../src/practice/compare/compare.js';
import { ALL, faults, faultsOf, heardSide, sideOf, TUNE, withNotes } from './sides.js';

const tune = sideOf(TUNE);

/** The tune as heard, with note 6 (from 1) a semitone too high. */
const slip = TUNE.map((midi, i) => (i === 5 ? midi + 1 : midi));

describe('a wrong key', () => {
  test('whose next likeliest key is right is probably right', () => {
    const doubtful = withNotes(heardSide(slip), (_, i) => (i === 5 ? { other: 64, confidence: 0.6 } : {}));
    const result = compare(tune, doubtful, ALL);
    expect(faults(result)).toEqual(['6/6 probably right']);
    expect(result.notes[5]).toMatchObject({ semitones: 0, cents: 0 });
    expect(result.score).toBe(1);
  });

  test('whose next likeliest key is wrong too is wrong', () => {
    const doubtful = withNotes(heardSide(slip), (_, i) => (i === 5 ? { other: 66, confidence: 0.6 } : {}));
    expect(faultsOf(tune, doubtful)).toEqual(['6/6 too high 1']);
  });

  test('is probably right where the melody itself is in doubt', () => {
    const doubtful = withNotes(heardSide(TUNE), (_, i) => (i === 5 ? { other: 65, confidence: 0.6 } : {}));
    expect(faultsOf(doubtful, sideOf(slip))).toEqual(['6/6 probably right']);
  });

  test('an octave off is misheard where the note is faint, and wrong where it is not', () => {
    const octave = TUNE.map((midi, i) => (i === 5 ? midi + 12 : midi));
    const faint = withNotes(heardSide(octave), (_, i) => (i === 5 ? { confidence: 0.5 } : {}));
    expect(faultsOf(tune, faint)).toEqual(['6/6 probably right']);
    expect(faultsOf(tune, heardSide(octave))).toEqual(['6/6 too high 12']);
  });
});

describe('a voice', () => {
  test('is told in cents, measured from its own tuning', () => {
    const sung = {
      ...withNotes(heardSide(slip), ({ midi }, i) => ({ pitch: midi + 0.3 - (i === 5 ? 0.25 : 0) })),
      tuningCents: 30,
    };
    const { notes, summary } = compare(tune, sung, ALL);
    expect(notes[0]).toMatchObject({ verdict: 'right', cents: 0 });
    expect(notes[0]!.sung).toBeCloseTo(0);
    expect(notes[5]).toMatchObject({ verdict: 'too high', semitones: 1 });
    expect(notes[5]!.cents).toBeCloseTo(75);
    expect(summary.mistakes[0]!.words).toBe('note 6 (E4) is a semitone too high (75 cents)');
  });
});

describe('extra and missed notes', () => {
  test('a faint note too many is not called extra', () => {
    const more = [...TUNE.slice(0, 5), 58, ...TUNE.slice(5)];
    const faint = withNotes(heardSide(more), (_, i) => (i === 5 ? { confidence: 0.4 } : {}));
    const result = compare(tune, faint, ALL);
    expect(faults(result)).toEqual(['-/6 unsure']);
    expect(result.score).toBe(1);
    expect(faultsOf(tune, heardSide(more))).toEqual(['-/6 extra']);
  });

  test('a key struck twice that is heard as one long note was probably struck twice', () => {
    const twice = sideOf([60, 64, 64, 62, 65, 67, 62, 60]);
    const keys = [60, 64, 62, 65, 67, 62, 60];
    const held = withNotes(heardSide(keys), ({ start, end }, i) => ({
      start: i > 1 ? start + 0.5 : start,
      end: i > 0 ? end + 0.5 : end,
    }));
    expect(faultsOf(twice, held)).toEqual(['3/2 probably right']);
    const released = withNotes(held, ({ start }, i) => (i === 1 ? { end: start + 0.45 } : {}));
    expect(faultsOf(twice, released)).toEqual(['3/- missed']);
  });
});

describe('a tone far below both of its neighbours', () => {
  /** The tune with a dip over the first 0.15 s of note 6, or of another key in its place. */
  const dipped = (heard: boolean) => {
    const keys = [...TUNE.slice(0, 5), 38, ...TUNE.slice(5)];
    const side = withNotes(heardSide(keys), ({ start, end }, i) => {
      if (i < 5) return { end: start + 0.5 };
      if (i === 5) return { end: start + 0.15 };
      if (i === 6) return { start: start - 0.35, end: end - 0.5 };
      return { start: start - 0.5, end: end - 0.5 };
    });
    return { ...side, heard };
  };

  test('hides the beginning of the note behind it, which is in time', () => {
    const result = compare(tune, dipped(true), ALL);
    expect(faults(result)).toEqual(['-/6 unsure']);
    expect(result.notes.find(({ target }) => target === 6)!.seconds).toBeCloseTo(0);
  });

  test('takes the place of a note', () => {
    const keys = TUNE.map((midi, i) => (i === 5 ? 38 : midi));
    expect(faultsOf(tune, heardSide(keys))).toEqual(['6/6 probably right']);
    expect(faultsOf(tune, sideOf(keys))).toEqual(['6/6 too low -26']);
  });

  test('with a time of its own is an extra note', () => {
    const keys = [...TUNE.slice(0, 5), 38, ...TUNE.slice(5)];
    const squeezed = withNotes(heardSide(keys), ({ start, end }, i) => {
      if (i === 4) return { end: start + 0.3 };
      if (i === 5) return { start: start - 0.2, end: start };
      return i > 5 ? { start: start - 0.5, end: end - 0.5 } : {};
    });
    expect(faultsOf(tune, squeezed)).toEqual(['-/6 extra']);
  });

  test('is a note like any other where nothing was heard but read', () => {
    expect(faultsOf(tune, dipped(false))).toContain('-/6 extra');
  });
});
