/** The attempts hold the mistakes that they say, and the scores tell found ones from those that are not. */
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { type Attempt, attemptAt } from './attempts.js';
import { exactSide, scoreAttempt } from './score.js';
import { type Song, sideOf } from './songs.js';

const LINE = [60, 64, 62, 65, 67, 64, 69, 67];
const KEYS = [...LINE, 72, 69, 71, 67, 65, 69, 62, 60, ...LINE];
const song: Song = {
  name: 'tune',
  half: 'a',
  target: sideOf(
    KEYS.map((midi, i) => ({ start: i / 2, end: i / 2 + 0.45, midi })),
    [0, 8, 16],
  ),
};
const attempts = Array.from({ length: 60 }, (_, seed) => attemptAt(song, seededRandom(seed)));

/** The song played as written. */
const plain: Attempt = {
  song,
  clean: true,
  transposition: 0,
  tempoRatio: 1,
  missed: [],
  shifted: null,
  notes: song.target.notes.map(({ start, end, midi }, of) => ({
    start,
    end,
    midi,
    of,
    off: 0,
    isRestart: false,
    moved: 0,
  })),
};

describe('attempts', () => {
  test('every note of the song is played or missed, the last time in order', () => {
    for (const { notes, missed } of attempts) {
      const last = notes.flatMap(({ of, isRestart }) => (of === null || isRestart ? [] : [of]));
      expect([...last, ...missed].sort((a, b) => a - b)).toEqual(KEYS.map((_, i) => i));
      expect(last).toEqual([...last].sort((a, b) => a - b));
    }
  });

  test('keys are those of the song, moved by the transposition and what is said to be off', () => {
    for (const { notes, transposition } of attempts) {
      for (const { of, off, midi } of notes) {
        if (of !== null) expect(midi).toBe(KEYS[of]! + transposition + off);
      }
    }
  });

  test('a clean one has no mistakes; each kind of mistake comes', () => {
    for (const { notes, missed } of attempts.filter(({ clean }) => clean)) {
      expect(missed).toEqual([]);
      expect(notes.some(({ of, off, isRestart }) => of === null || off !== 0 || isRestart)).toBe(false);
    }
    const all = attempts.flatMap(({ notes }) => notes);
    expect(all.some(({ of }) => of === null)).toBe(true);
    expect(all.some(({ isRestart }) => isRestart)).toBe(true);
    expect(all.some(({ moved }) => moved !== 0)).toBe(true);
    expect(attempts.some(({ missed }) => missed.length > 0)).toBe(true);
    expect(attempts.some(({ shifted }) => shifted !== null)).toBe(true);
  });

  test('notes start one after the other', () => {
    for (const { notes } of attempts) {
      notes.slice(1).forEach((note, i) => {
        expect(note.start).toBeGreaterThan(notes[i]!.start);
      });
    }
  });
});

describe('scores', () => {
  test('a mistake that is there is found, one that is only said is not', () => {
    const notes = plain.notes.map((note, i) => (i === 5 ? { ...note, midi: note.midi + 2, off: 2 } : note));
    const wrong = { ...plain, clean: false, notes };
    expect(scoreAttempt(wrong, exactSide(wrong))).toMatchObject({
      key: true,
      wrong: { found: 1, of: 1 },
      falseKeys: { found: 0, of: 23 },
    });
    expect(scoreAttempt(wrong, exactSide(plain)).wrong).toEqual({ found: 0, of: 1 });
  });

  test('what is heard wrong in a clean attempt is a false alarm', () => {
    const heard = { ...plain, notes: plain.notes.filter((_, i) => i !== 7) };
    expect(scoreAttempt(plain, exactSide(heard)).falseKeys).toEqual({ found: 1, of: 24 });
  });
});
