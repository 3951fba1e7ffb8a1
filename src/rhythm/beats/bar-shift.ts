/** Where the bars of a reading begin. */
import { barLineScores } from '../bars/bar-line.js';
import type { Reading } from './readings.js';

/**
 * Place in its bar of the sixteenth counted 0, at which the bar lines suit the melody best; that of the reading, which
 * knows the rhythm alone, where no tunes of its metre were counted.
 *
 * @param midi pitches of the notes
 */
export function barShift({ positions, metre, shift }: Reading, midi: readonly number[]): number {
  const scores = barLineScores(positions, midi, metre.beatsPerBar, metre.beatUnit);
  return scores === null ? shift : scores.indexOf(Math.max(...scores));
}
