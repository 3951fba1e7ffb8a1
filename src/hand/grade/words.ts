/** What was counted, in words. */
import type { Feature } from './types.js';

const percent = (share: number) => `${Math.round(100 * share)} %`;
const times = (count: number) => (count === 1 ? 'once' : `${count} times`);

const WORDS: Readonly<Record<Feature, (value: number) => string>> = {
  'different notes': (count) => (count === 1 ? 'one note only' : `${count} different notes`),
  'commonest note': (share) => `the commonest note is ${percent(share)} of all`,
  'note changes': (rate) =>
    rate === 0 ? 'the note never changes' : `the note changes ${rate.toFixed(1)} times a second`,
  'short notes': (seconds) => `a quarter of the notes last ${seconds.toFixed(2)} s or less`,
  range: (semitones) =>
    semitones === 0 ? 'all on one key' : `a range of ${semitones} semitone${semitones === 1 ? '' : 's'}`,
  leaps: (share) =>
    share === 0 ? 'no leap of a fourth or more' : `${percent(share)} of the steps are a fourth or wider`,
  'hand moves': (rate) =>
    rate === 0
      ? 'the hand moves between lines at most'
      : `the hand moves ${times(Math.max(1, Math.round(rate)))} a minute within lines`,
  'black keys': (share) =>
    share === 0 ? 'no black keys' : `${percent(share)} of the notes are on black keys`,
  'fine rhythm': (share) =>
    share === 0
      ? 'no note begins between the eighths'
      : `${percent(share)} of the notes begin between the eighths`,
  syncopation: (share) => (share === 0 ? 'no syncopation' : `${percent(share)} of the notes are syncopated`),
  'notes to learn': (count) =>
    count === 1 ? 'one note to learn' : `${count} notes to learn, lines that come again counted once`,
};

/** A reason, such as `7 different notes`. */
export function wordsFor(feature: Feature, value: number | null): string {
  return value === null ? (UNTOLD[feature] ?? `${feature}: not known`) : WORDS[feature](value);
}

/** Where it is not known. */
const UNTOLD: Partial<Record<Feature, string>> = {
  'hand moves': 'no fingers to tell how often the hand moves',
  'fine rhythm': 'no steady beat to tell how fine the rhythm is',
  syncopation: 'no steady beat to tell what is syncopated',
};
