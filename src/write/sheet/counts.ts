/** How each line of the song is counted in. */
import type { Melody } from '../../melody.js';
import { beatClock } from '../beat-clock.js';
import { rounded } from '../numbers.js';
import { songLines } from './line-view.js';
import type { LineCount } from './page-data.js';

/** A note this little before a beat, in beats, still counts as on it. */
const EARLY = 0.25;

/**
 * A bar of clicks before the first note, and for a pickup the beats of its bar before it too, so that the last click
 * of the count leads straight into the line. The tempo is that of the line.
 */
export function lineCounts(melody: Melody): LineCount[] | null {
  const clock = beatClock(melody);
  const { beatsPerBar } = melody.meter;
  if (clock === null || beatsPerBar === null) return null;
  return songLines(melody).map(({ first, last }) => {
    const [start, end] = [melody.notes[first - 1]!.start, melody.notes[last - 1]!.end];
    const [from, to] = [
      clock.positionAt(start),
      Math.max(clock.positionAt(end), clock.positionAt(start) + 0.5),
    ];
    const beatSeconds = (end - start) / (to - from);
    const lastClick = Math.ceil(from - EARLY) - 1;
    const bar = Math.floor((from + EARLY) / beatsPerBar) * beatsPerBar;
    const pickup = from + EARLY - bar >= beatsPerBar / 2;
    const firstClick = pickup ? bar : bar - beatsPerBar;
    return {
      beatSeconds: rounded(beatSeconds, 4),
      clicks: Math.max(1, lastClick - firstClick + 1),
      lastClickSeconds: rounded((from - lastClick) * beatSeconds, 4),
      beatsPerBar,
    };
  });
}
