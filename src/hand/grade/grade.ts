/** How hard a line is for a beginner's right hand. */
import { addedBy } from './curves.js';
import { featuresOf, type GradedMelody } from './features.js';
import { FEATURES, type Grade } from './types.js';
import { wordsFor } from './words.js';

/**
 * The level, 1 (easiest) to 10, and why: a sum of what each feature adds (curves.ts), nothing learnt and nothing hidden.
 * The same notes played faster are never graded lower, nor is a line that no longer repeats another: every count goes up
 * (or, where little is hard, down) with it, and every curve goes one way. What is compared is
 * the melody as it stands: a line read anew may be given other bars and other fingers.
 *
 * @param melody at least one note, lines that hold all notes, and the positions of the hand where they are known
 */
export function gradeMelody(melody: GradedMelody): Grade {
  const counted = featuresOf(melody);
  const parts = FEATURES.map((what) => {
    const value = counted[what];
    return { what, value, adds: addedBy(what, value) };
  }).sort((a, b) => b.adds - a.adds);
  const sum = parts.reduce((total, { adds }) => total + adds, 1);
  return {
    level: Math.round(10 * sum) / 10,
    reasons: parts.map(({ what, value }) => wordsFor(what, value)),
    parts,
  };
}
