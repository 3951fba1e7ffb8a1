/** Notes as they might be heard: some missing, some wrong, each as sure as such notes are. */

interface Sung {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** Share of the notes that are missed. */
const MISSED = 0.04;
/** Share of the notes that are doubtful. This and the confidences below are rounded guesses at what singing gives. */
const DOUBTFUL = 0.25;
/** Semitones by which a wrong note is off, and up to which share of the wrong ones; the rest lie anywhere within 7. */
const STEPS = [
  [1, 0.6],
  [2, 0.75],
  [12, 0.85],
] as const;

/** The notes with confidences; a note is wrong as often as its confidence says. Rounded guesses, the same for every tune. */
export function misheard<N extends Sung>(
  notes: readonly N[],
  random: () => number,
): (N & { confidence: number })[] {
  return notes.flatMap((note) => {
    if (random() < MISSED) return [];
    const confidence = random() < DOUBTFUL ? 0.45 + 0.43 * random() : 0.88 + 0.11 * random();
    if (random() < confidence) return [{ ...note, confidence }];
    const draw = random();
    const step = STEPS.find(([, until]) => draw < until)?.[0] ?? 1 + Math.floor(7 * random());
    return [{ ...note, midi: note.midi + (random() < 0.5 ? step : -step), confidence }];
  });
}
