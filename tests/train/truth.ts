/** `NAME.truth.json` and `NAME.pv`, text to labels. Every reader is strict: a bad file is an error that names it. */
import { z } from 'zod';
import type { Labels } from './targets.js';

/** Times of a note are called start and end, or on and off, in seconds; `f0Hz` is 0 where no voice sounds. */
const note = z.union([
  z.object({ start: z.number(), end: z.number() }),
  z.object({ on: z.number(), off: z.number() }).transform(({ on, off }) => ({ start: on, end: off })),
]);
const truth = z.object({
  notes: z.array(note),
  f0Hz: z.array(z.number()).optional(),
  f0HopSeconds: z.number().positive().default(0.01),
});

/** Computed voices start a note with the vowel, and the pitch has arrived about 10 ms before. */
const VOICE_LATE_SECONDS = 0.01;

/**
 * Labels of a computed recording. Where its name tells of a voice (sung, hummed) its onsets count as 10 ms
 * late; a piano's or whistle's are exact.
 */
export function readTruth(text: string, name: string): Labels {
  const parsed = truth.safeParse(jsonOf(text));
  if (!parsed.success) {
    throw new Error(`${name}.truth.json is not a truth file: ${z.prettifyError(parsed.error)}`);
  }
  const { notes, f0Hz, f0HopSeconds } = parsed.data;
  return {
    notes,
    lateSeconds: /sung|hummed/.test(name) ? VOICE_LATE_SECONDS : 0,
    voiced:
      f0Hz === undefined
        ? null
        : { firstSeconds: 0, hopSeconds: f0HopSeconds, values: f0Hz.map((hz) => hz > 0) },
  };
}

/** The data in a JSON text; undefined, which no truth file is, where it is none. */
function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Seconds between the lines of a `.pv` file; line n, from 1, is centred at n times this. */
const PV_HOP_SECONDS = 0.02;

/** Labels of a clip with one pitch a line, 0 where no voice sounds; its notes are not known. */
export function readPitchLines(text: string, label: string): Labels {
  const values = text
    .trim()
    .split(/\s*\n\s*/)
    .map(Number);
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) throw new Error(`${label}: line ${bad + 1} is not a number.`);
  return {
    notes: null,
    lateSeconds: 0,
    voiced: {
      firstSeconds: PV_HOP_SECONDS,
      hopSeconds: PV_HOP_SECONDS,
      values: values.map((value) => value > 0),
    },
  };
}
