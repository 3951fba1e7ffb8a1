import { z } from 'zod';
import { BAR_BEATS, TEMPO_BPM } from '../limits.js';

/**
 * The melody as JSON: the one description of its fields. `readMelodyJson` checks against it and
 * docs/melody.schema.json is generated from it (docs/melody-json.md says how). Fields that a later version
 * adds are let through.
 */

const seconds = (what: string) =>
  z.number().min(0).describe(`${what}, in seconds from the start of the recording.`);
const key = z.int().min(0).max(127);
const count = z.int().min(1);
const noteName = z.string().regex(/^[A-G](#|b|##|bb)?$/);

const note = z.object({
  start: seconds('Start of the note'),
  end: seconds('End of the note, later than its start'),
  midi: key.describe(
    'The piano key as a MIDI number (69 = A4), after the tuning of the recording was taken out.',
  ),
  pitch: z
    .number()
    .describe('Fractional MIDI number as sung, before the tuning of the recording is taken out.'),
  name: z
    .string()
    .regex(/^[A-G](#|b|##|bb)?-?\d+$/)
    .describe('Name of the key with its octave, spelt for the scale, ASCII: F#4, Bb3.'),
  confidence: z.number().min(0).max(1).describe('Probability from 0 to 1 that the key is right.'),
  other: key.nullable().describe('The next likeliest key as a MIDI number, null where there is no doubt.'),
  line: count.describe('Line of the song, from 1.'),
  bar: z
    .int()
    .nullable()
    .describe('Bar, from 1; a pickup before the first downbeat is in bar 0; null while no beat is known.'),
  beat: z.number().nullable().describe('Beat in the bar from 1, fractional, null while no beat is known.'),
  beats: z.number().nullable().describe('Written length in beats, null while no beat is known.'),
  finger: z.int().min(1).max(5).describe('Right-hand finger from 1 (thumb) to 5 (little finger).'),
  fingerFixed: z
    .boolean()
    .optional()
    .describe('True where the finger is settled: it is kept, and the others are worked out around it.'),
});

const line = z.object({
  start: seconds('Start of the line'),
  end: seconds('End of the line'),
  first: count.describe('Number of its first note, from 1.'),
  last: count.describe('Number of its last note, from 1.'),
  like: count.nullable().describe('Number of the earlier line that it repeats, from 1, or null.'),
});

const handPosition = z.object({
  first: count.describe('Number of the first note in this position, from 1.'),
  thumb: key.describe('The key under the thumb, whether it plays or not, as a MIDI number.'),
});

const section = z.object({
  letter: z.string().describe('A, B, …, by first appearance.'),
  first: count.describe('Number of its first line, from 1.'),
  last: count.describe('Number of its last line, from 1.'),
});

const mode = z.enum([
  'major',
  'minor',
  'harmonic minor',
  'melodic minor',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'locrian',
  'major pentatonic',
  'minor pentatonic',
  'blues',
]);

const namedNotes = z.object({
  name: noteName.describe('Name of the note, ASCII without octave.'),
  numbers: z.array(count).describe('Numbers of the notes of the melody that have it, from 1.'),
});

const scale = z.object({
  tonic: noteName.describe('Tonic, ASCII without octave: F, Bb, F#.'),
  mode: mode.describe('Kind of scale; minor is the natural minor.'),
  score: z.number().min(0).max(1).describe('Probability from 0 to 1 among all candidate scales.'),
  notes: z.array(noteName).describe('Notes of the scale from the tonic up.'),
  outside: z.array(noteName).describe('Notes of the melody that the scale does not hold.'),
  deciders: z.array(noteName).describe('Notes that would decide between this scale and its nearest rival.'),
  place: count
    .optional()
    .describe('Place from 1; scales that the notes cannot tell apart share one. A key that was given has 1.'),
  rival: z
    .object({ tonic: noteName, mode })
    .nullable()
    .optional()
    .describe('The nearest rival, against which the deciders decide, or null.'),
  decidersAt: z
    .array(namedNotes)
    .optional()
    .describe('For each decider, where the melody sings it; no numbers where it never does.'),
  outsideAt: z
    .array(
      namedNotes.extend({
        doubtful: z
          .array(count)
          .describe('Those of the notes that may be mishearings: likelier wrong than right.'),
        nextTo: z
          .array(noteName)
          .describe('Keys of the scale next to it: one, or two where both are as near.'),
      }),
    )
    .optional()
    .describe('For each note outside, where the melody sings it.'),
});

const part = z.object({
  what: z.string().describe('What was counted, such as different notes.'),
  value: z
    .number()
    .nullable()
    .describe('How much of it, in the unit of docs/melody-json.md; null if unknown.'),
  adds: z.number().min(0).describe('What it adds to the level.'),
});

const grade = z.object({
  level: z.number().min(1).max(10).describe('How hard it is for a beginner, 1 (easiest) to 10, to a tenth.'),
  reasons: z.array(z.string()).describe('Why, in words, what adds most first.'),
  parts: z.array(part).describe('The same as numbers, in the same order; with 1 they add up to the level.'),
});

export const melodySchema = z
  .object({
    format: z.literal('cantilena-melody').describe('Name of this format.'),
    version: z.literal(1).describe('Version of this format.'),
    recording: z.object({
      seconds: z.number().min(0).describe('Length of the recording in seconds.'),
      source: z
        .enum(['solo', 'mix'])
        .nullable()
        .optional()
        .describe(
          'What it was heard as: one voice or instrument alone, or a voice with a band; null if unknown.',
        ),
      why: z
        .string()
        .nullable()
        .optional()
        .describe('Why it was heard so, for people; null where the source was asked for or is unknown.'),
    }),
    tuningCents: z
      .number()
      .min(-50)
      .max(50)
      .describe('How far the recording lies above A4 = 440 Hz, in cents.'),
    tempo: z.object({
      bpm: z
        .number()
        .min(TEMPO_BPM.least)
        .max(TEMPO_BPM.most)
        .nullable()
        .describe('Beats a minute, null while unknown.'),
      beats: z
        .array(z.number())
        .optional()
        .describe("Seconds of every beat, increasing, from the first bar's start on; empty while unknown."),
    }),
    meter: z.object({
      beatsPerBar: z
        .int()
        .min(BAR_BEATS.least)
        .max(BAR_BEATS.most)
        .nullable()
        .describe('Beats in a bar, null while unknown.'),
      beatUnit: z
        .union([z.literal(4), z.literal(8)])
        .nullable()
        .optional()
        .describe('What note a beat is: 4, a quarter, or 8, an eighth; null while unknown.'),
      firstDownbeat: z
        .number()
        .nullable()
        .describe('Time of the first downbeat in seconds, null while unknown.'),
    }),
    notes: z.array(note).describe('The notes in order of start; none overlaps the next.'),
    sections: z
      .array(section)
      .optional()
      .describe('The form of the song: lines that belong together, the same letter where they come again.'),
    hand: z
      .array(handPosition)
      .optional()
      .describe('Where the right hand lies, position after position, from the first note on.'),
    lines: z.array(line).describe('The lines of the song in order.'),
    scales: z.array(scale).describe('Candidate scales, best first.'),
    grade: grade.optional().describe('How hard the melody is for the right hand of a beginner, and why.'),
  })
  .describe('A melody written by cantilena: notes, lines of the song and the scales that hold them.');

/** A melody as JSON holds it. */
export type MelodyJson = z.infer<typeof melodySchema>;

/** The text of docs/melody.schema.json: JSON Schema, draft 2020-12, ending with a newline. */
export function melodySchemaText(): string {
  return `${JSON.stringify(z.toJSONSchema(melodySchema, { io: 'input' }), null, 2)}\n`;
}
