/** The tempo in which a line is counted in. */
import { middleOf } from '../../dsp/median.js';
import type { Melody, MelodyNote } from '../../melody.js';
import type { Pace } from './types.js';

/** Beats this near to the line, in seconds of the melody, tell its tempo. */
const NEAR_SECONDS = 4;
/** Without a beat: so many notes tell a pace, which is kept between 50 and 171 clicks a minute, so that it can be counted. */
const NOTES_OF_PACE = 6;
const FASTEST_SECONDS = 0.35;
const SLOWEST_SECONDS = 1.2;
const BEATS_WITHOUT_METER = 4;

/**
 * The beat around the notes where one is known: the median of the beats from a little before them to their end. Else
 * the median time from note to note, four to a bar, the first note on the first beat.
 *
 * @param notes at least one, in order
 */
export function paceOf({ tempo, meter }: Melody, notes: readonly MelodyNote[]): Pace {
  const first = notes[0]!;
  const last = notes.at(-1)!;
  if (first.beat !== null && meter.beatsPerBar !== null && tempo.beats.length > 1) {
    const spans = tempo.beats.slice(1).map((time, i) => ({ time, span: time - tempo.beats[i]! }));
    const near = spans.filter(({ time }) => time > first.start - NEAR_SECONDS && time < last.end);
    const usable = near.length > 0 ? near : spans;
    return {
      beatSeconds: middleOf(usable.map(({ span }) => span))!,
      beatsPerBar: meter.beatsPerBar,
      firstBeat: first.beat,
      known: true,
    };
  }
  const some = notes.slice(0, NOTES_OF_PACE);
  const gaps = some.slice(1).map(({ start }, i) => start - some[i]!.start);
  const pace = middleOf(gaps) ?? first.end - first.start;
  return {
    beatSeconds: Math.min(Math.max(pace, FASTEST_SECONDS), SLOWEST_SECONDS),
    beatsPerBar: BEATS_WITHOUT_METER,
    firstBeat: 1,
    known: false,
  };
}
