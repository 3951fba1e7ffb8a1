/**
 * How often each degree of a key is heard, tonic first, in semitones above the tonic.
 * Temperley, Music and Probability (2007), ch. 6: share of segments of the Kostka-Payne corpus that hold the
 * degree. Copies with other last two digits of the minor row (.400 .110) are in circulation and are wrong.
 */
import { modeSemitones } from './tonal-tables.js';
import type { Mode } from './types.js';

export const KOSTKA_PAYNE_MAJOR: readonly number[] = [
  0.748, 0.06, 0.488, 0.082, 0.67, 0.46, 0.096, 0.715, 0.104, 0.366, 0.057, 0.4,
];
export const KOSTKA_PAYNE_MINOR: readonly number[] = [
  0.712, 0.084, 0.474, 0.618, 0.049, 0.46, 0.105, 0.747, 0.404, 0.067, 0.133, 0.33,
];

/**
 * Degrees (in semitones) whose weights change places to make a mode's profile from the major or minor one:
 * the mode's own degree takes the weight of the one it replaces. The minor row above is that of the harmonic
 * minor (seventh raised); the natural minor exchanges the sevenths.
 */
const MADE_FROM: Record<
  Mode,
  { readonly base: 'major' | 'minor'; readonly swaps: readonly (readonly [number, number])[] }
> = {
  major: { base: 'major', swaps: [] },
  lydian: { base: 'major', swaps: [[5, 6]] },
  mixolydian: { base: 'major', swaps: [[10, 11]] },
  'major pentatonic': { base: 'major', swaps: [] },
  minor: { base: 'minor', swaps: [[10, 11]] },
  'harmonic minor': { base: 'minor', swaps: [] },
  'melodic minor': { base: 'minor', swaps: [[8, 9]] },
  dorian: {
    base: 'minor',
    swaps: [
      [8, 9],
      [10, 11],
    ],
  },
  phrygian: {
    base: 'minor',
    swaps: [
      [1, 2],
      [10, 11],
    ],
  },
  locrian: {
    base: 'minor',
    swaps: [
      [1, 2],
      [6, 7],
      [10, 11],
    ],
  },
  'minor pentatonic': { base: 'minor', swaps: [[10, 11]] },
  blues: { base: 'minor', swaps: [[10, 11]] },
};

/** Modes with notes missing from or added to the row that they are made from. */
const FEW_NOTES: ReadonlySet<Mode> = new Set(['major pentatonic', 'minor pentatonic', 'blues']);

/** Weight of a degree that a mode of few notes adds (the flat fifth of the blues): that of a note touched in passing. */
const ADDED_WEIGHT = 0.2;

/**
 * Profile of a mode, twelve weights from the tonic up. In the pentatonic and blues scales the degrees that
 * they leave out weigh as little as the rarest.
 */
export function modeProfile(mode: Mode): number[] {
  const { base, swaps } = MADE_FROM[mode];
  const profile = [...(base === 'major' ? KOSTKA_PAYNE_MAJOR : KOSTKA_PAYNE_MINOR)];
  for (const [a, b] of swaps) [profile[a], profile[b]] = [profile[b]!, profile[a]!];
  if (!FEW_NOTES.has(mode)) return profile;
  const held = new Set(modeSemitones(mode));
  const outside = Math.min(...profile);
  return profile.map((weight, degree) => (held.has(degree) ? Math.max(weight, ADDED_WEIGHT) : outside));
}
