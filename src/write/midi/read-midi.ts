import midiFile, { type MidiData } from 'midi-file';
import { InputError, NoMelodyError } from '../../errors.js';
import type { Note } from '../../notes/types.js';
import { LATEST_END } from '../check-notes.js';
import { counted } from '../counted.js';
import { plainText } from '../plain-text.js';
import type { ReadNotes } from '../types.js';
import { checkMidiBytes } from './midi-chunks.js';
import { tickClock } from './midi-clock.js';
import { collectParts, type KeyPress, type Part } from './midi-parts.js';
import { eventsOf, readBeat } from './read-midi-beats.js';
import { skyline } from './skyline.js';

/** Tracks that say by their name that they hold the melody. */
const MELODY_NAME = /melod|voice|vocal/i;
/**
 * Reads the melody of a Standard MIDI File, format 0 or 1.
 *
 * Checks the chunks, lets the parser read them, sorts the key presses into parts (one for each track and
 * channel, drums left out), takes the part named melody, voice or vocal, else the one with most notes that
 * sound alone, keeps the highest of notes that sound together, and turns ticks into seconds by the tempo
 * map. Markers "line 1", "line 2 (like 1)" … give the starts of lines; other markers are not read. Confidence is 1:
 * a file does not doubt. Beats and bars are read as read-midi-beats.ts says.
 *
 * @param label what the file is called in error messages
 * @throws InputError where the bytes are not a MIDI file, or a damaged one
 * @throws NoMelodyError where no part holds a note
 */
export function readMidi(bytes: Uint8Array, label: string): ReadNotes {
  const data = parse(bytes, label);
  const parts = collectParts(data.tracks, label);
  const chosen = choosePart(parts);
  if (!chosen) throw new NoMelodyError(`${label} holds no notes outside the drum channel.`);
  const toSeconds = tickClock(data);
  const presses = chosen.presses.map((press) => ({
    start: toSeconds(press.start),
    end: toSeconds(press.end),
    midi: press.midi,
  }));
  const kept = skyline(presses);
  const notes = kept.map(
    ({ start, end, midi }): Note => ({
      start,
      end,
      midi,
      pitch: midi,
      confidence: 1,
      other: null,
    }),
  );
  if (!kept.every(({ end }) => end <= LATEST_END)) {
    throw new InputError(
      `${label} is a damaged MIDI file (it holds a note after ${LATEST_END} s); export it again.`,
    );
  }
  if (notes.length === 0) throw new NoMelodyError(`${label} holds only notes of no length.`);
  const firstTick = chosen.presses[0]!.start;
  const lastTick = chosen.presses.reduce((latest, { end }) => Math.max(latest, end), 0);
  return {
    notes,
    tuningCents: 0,
    seconds: notes.at(-1)!.end,
    ...readBeat(data, toSeconds, firstTick, lastTick),
    lineStarts: readLines(data, notes, toSeconds),
    heardAs: null,
    warnings: warnings(label, parts, chosen, presses.length - notes.length),
  };
}

/** The parser throws strings and reads past the end in silence: this is the one place that guards it. */
function parse(bytes: Uint8Array, label: string): MidiData {
  const checked = checkMidiBytes(bytes, label);
  try {
    const data = midiFile.parseMidi(checked);
    const times = data.tracks.every((track) => track.every(({ deltaTime }) => isDelta(deltaTime)));
    if (!times) throw new RangeError('it holds a time that is none');
    return data;
  } catch (error) {
    const reason = plainText(error instanceof Error ? error.message : String(error));
    throw new InputError(`${label} is a damaged MIDI file (${reason}); export it again.`);
  }
}

/** Variable-length numbers have at most four bytes (SMF 1.0, "Variable-length quantity"); longer ones overflow. */
function isDelta(ticks: number): boolean {
  return ticks >= 0 && ticks <= 0x0fff_ffff;
}

function choosePart(parts: readonly Part[]): Part | undefined {
  const named = parts.filter((part) => MELODY_NAME.test(part.name));
  const pool = named.length > 0 ? named : parts;
  return pool.reduce<Part | undefined>(
    (best, part) => (best === undefined || aloneCount(part.presses) > aloneCount(best.presses) ? part : best),
    undefined,
  );
}

/** How many notes have no other of the part sounding at their middle. */
function aloneCount(presses: readonly KeyPress[]): number {
  let latestEnd = 0;
  let count = 0;
  presses.forEach((press, index) => {
    const middle = (press.start + press.end) / 2;
    const next = presses[index + 1];
    if (latestEnd <= middle && (next === undefined || next.start > middle)) count++;
    latestEnd = Math.max(latestEnd, press.end);
  });
  return count;
}

/** Numbers of the first notes at or after the markers "line N", null without such markers. */
function readLines(
  data: MidiData,
  notes: readonly Note[],
  toSeconds: (tick: number) => number,
): number[] | null {
  const marks = eventsOf(data, 'marker').filter(({ event }) => /^line \d+( \(like \d+\))?$/.test(event.text));
  if (marks.length === 0) return null;
  const starts = marks.map(({ tick }) => {
    // Half a note's length of slack: a marker on the note belongs to it however ticks were rounded.
    const seconds = toSeconds(tick);
    return notes.findIndex((note) => (note.start + note.end) / 2 > seconds) + 1;
  });
  return [...new Set([1, ...starts.filter((start) => start > 0)])].sort((a, b) => a - b);
}

function warnings(label: string, parts: readonly Part[], chosen: Part, leftOut: number): string[] {
  const list: string[] = [];
  if (parts.length > 1) {
    list.push(
      `${label} has ${parts.length} parts with notes; the melody was taken from ${chosen.title} (${counted(chosen.presses.length, 'note')}).`,
    );
  }
  if (leftOut > 0) {
    list.push(
      `${label}: left out ${counted(leftOut, 'note')} that sounded under a higher one or had no length.`,
    );
  }
  return list;
}
