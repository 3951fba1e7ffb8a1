/** The scales of a few notes that somebody names, rather than sings. */
import { rankScales } from './scales.js';
import type { Key, RankedScale } from './types.js';

/**
 * How often each note that is named counts: it stands for the times it comes in a song, and is meant. With one, a scale
 * that lacks one of four notes could come third; with ten, relative keys would be told apart by nothing (our choice).
 */
const TIMES = 4;

/** Silence after every note, in seconds; the same for all, so that none ends a line more than the others. */
const SILENCE_SECONDS = 1;

/**
 * Ranks the scales for notes by name, as `rankScales` does for a melody. They are equally long and each as likely to end
 * a line: nobody who names notes means that the last is the tonic. The first and the last count a little more, as they
 * do in a melody. Numbers in the ranking are those of the notes as they were named, from 1.
 *
 * @param midis integer MIDI numbers
 */
export function rankNamedNotes(midis: readonly number[], key?: Key): RankedScale[] {
  const once = midis.map((midi) => ({
    midi,
    weight: 1,
    lineEnd: true,
    confidence: 1,
    silenceAfter: SILENCE_SECONDS,
  }));
  const own = (numbers: readonly number[]) => numbers.filter((number) => number <= midis.length);
  return rankScales(Array.from({ length: TIMES }, () => once).flat(), key).map((scale) => ({
    ...scale,
    decidersAt: scale.decidersAt.map((at) => ({ ...at, numbers: own(at.numbers) })),
    outsideAt: scale.outsideAt.map((at) => ({ ...at, numbers: own(at.numbers) })),
  }));
}
