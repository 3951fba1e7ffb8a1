import type { z } from 'zod';
import { InputError, NoMelodyError } from '../../errors.js';
import type { Finger } from '../../hand/types.js';
import type { Note } from '../../notes/types.js';
import type { HeardAs } from '../../pitch/types.js';
import { BEAT_SPAN, findBeatFault } from '../check-beats.js';
import { findOrderFault, LATEST_END, trimOverlaps } from '../check-notes.js';
import { plainText } from '../plain-text.js';
import type { ReadNotes } from '../types.js';
import { type MelodyJson, melodySchema } from './schema.js';

/**
 * Reads a melody from JSON that `melodyJson` or another program wrote: parses, checks against the schema,
 * then what a schema cannot say (an end later than its start, notes in order, lines that start at notes).
 * `midi` decides the key, and `tempo.beats` are the beats; names, places in bars, fingers and scales are not taken over
 * but worked out anew.
 *
 * @param label what the text is called in error messages, such as the file's name
 * @throws InputError naming the path of the wrong field, such as `notes[3].midi`
 * @throws NoMelodyError where there are no notes
 */
export function readMelodyJson(text: string, label: string): ReadNotes {
  const json = check(parse(text, label), label);
  if (json.notes.length === 0) throw new NoMelodyError(`${label} holds no notes: its "notes" are empty.`);
  checkNotes(json, label);
  const notes: Note[] = json.notes.map(({ start, end, midi, pitch, confidence, other }) => ({
    start,
    end,
    midi,
    pitch,
    confidence,
    other,
  }));
  const trimmed = trimOverlaps(notes);
  return {
    notes: trimmed,
    tuningCents: json.tuningCents,
    seconds: Math.max(json.recording.seconds, trimmed.at(-1)!.end),
    bpm: json.tempo.bpm,
    beatsPerBar: json.meter.beatsPerBar,
    beatUnit: json.meter.beatUnit ?? null,
    firstDownbeat: json.meter.firstDownbeat,
    beats: beats(json, label),
    lineStarts: lineStarts(json, label),
    fixedFingers: json.notes.map(({ finger, fingerFixed }) => (fingerFixed ? (finger as Finger) : null)),
    heardAs: heardAs(json),
    warnings: [],
  };
}

/** Files of older versions say nothing about it. */
function heardAs({ recording: { source, why } }: MelodyJson): HeardAs | null {
  return source === undefined || source === null ? null : { source, why: why ? plainText(why) : null };
}

function parse(text: string, label: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw new InputError(`${label} is not JSON: ${plainText((error as SyntaxError).message)}.`);
  }
}

function check(value: unknown, label: string): MelodyJson {
  const result = melodySchema.safeParse(value);
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  const path = pathText(issue.path);
  throw new InputError(`${label} is not a melody: ${path} ${complaint(issue)}.`);
}

/** `notes[3].midi`; the whole text has no path. */
function pathText(path: readonly PropertyKey[]): string {
  const text = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`)).join('');
  return text === '' ? 'the text' : text.replace(/^\./, '');
}

/** What is wrong with a field, in the words of the schema library put after the path. */
function complaint(issue: z.core.$ZodIssue): string {
  const message = issue.message.replace(/^[^:]*: /, '');
  return issue.message.includes('received undefined') ? 'is missing' : `is wrong: ${message}`;
}

function checkNotes(json: MelodyJson, label: string): void {
  json.notes.forEach((note, index) => {
    if (note.end <= note.start) {
      throw new InputError(
        `${label} is not a melody: notes[${index}].end is ${note.end}, which is not later than its start ${note.start}.`,
      );
    }
  });
  const late = json.notes.findIndex((note) => note.end > LATEST_END);
  if (late >= 0) {
    throw new InputError(
      `${label} is not a melody: notes[${late}].end is ${json.notes[late]!.end}, which is later than ${LATEST_END} s.`,
    );
  }
  const { firstDownbeat } = json.meter;
  if (firstDownbeat !== null && Math.abs(firstDownbeat) > LATEST_END) {
    throw new InputError(
      `${label} is not a melody: meter.firstDownbeat is ${firstDownbeat}, which is more than ${LATEST_END} s off.`,
    );
  }
  const fault = findOrderFault(json.notes);
  if (!fault) return;
  const { index } = fault;
  const reason =
    fault.kind === 'order'
      ? `not later than the start ${json.notes[index - 1]!.start} of the note before`
      : `before the end ${json.notes[index - 1]!.end} of the note before`;
  throw new InputError(
    `${label} is not a melody: notes[${index}].start is ${json.notes[index]!.start}, ${reason}.`,
  );
}

/** Files of older versions have no beats; one alone tells nothing. */
function beats({ tempo }: MelodyJson, label: string): number[] | null {
  const seconds = tempo.beats ?? [];
  const fault = findBeatFault(seconds);
  if (fault >= 0) {
    throw new InputError(
      `${label} is not a melody: tempo.beats[${fault}] is ${seconds[fault]}, which is not ${BEAT_SPAN} after the beat before, ${seconds[fault - 1]}.`,
    );
  }
  return seconds.length < 2 ? null : seconds;
}

function lineStarts(json: MelodyJson, label: string): number[] | null {
  if (json.lines.length === 0) return null;
  json.lines.forEach((line, index) => {
    const least = index === 0 ? 1 : json.lines[index - 1]!.first + 1;
    if (line.first < least || line.first > json.notes.length) {
      throw new InputError(
        `${label} is not a melody: lines[${index}].first is ${line.first}, expected a note number from ${least} to ${json.notes.length}.`,
      );
    }
  });
  return json.lines.map((line) => line.first);
}
