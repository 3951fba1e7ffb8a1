/** A note with its times in seconds. */
interface Sounding {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** Two keys of a melody played legato overlap by no more than this, in seconds (our choice). */
const LEGATO_SECONDS = 0.1;
/** Notes that start within this many seconds start together: fingers are not exact (our choice). */
const TOGETHER_SECONDS = 0.03;

/**
 * One note at a time out of notes that may sound together: the highest wins. A higher note cuts the one
 * below it short, or takes its place where both start together; a lower note is left out while a higher
 * one sounds, unless it only overlaps the end of it as in legato playing: then the higher one ends there.
 * Notes of no length are left out.
 *
 * @param notes in order of start, higher keys first where they start together
 */
export function skyline(notes: readonly Sounding[]): Sounding[] {
  const line: Sounding[] = [];
  for (const note of notes) {
    if (note.end <= note.start) continue;
    const last = line.at(-1);
    if (last && last.end > note.start) {
      const together = note.start - last.start < TOGETHER_SECONDS;
      const overlap = last.end - note.start;
      const legato = !together && overlap <= Math.min(LEGATO_SECONDS, (note.end - note.start) / 2);
      if (note.midi > last.midi && together) line.pop();
      else if (note.midi > last.midi || legato) line[line.length - 1] = { ...last, end: note.start };
      else continue;
    }
    line.push(note);
  }
  return line;
}
