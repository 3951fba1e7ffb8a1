/**
 * The library: what the program does, for programs. docs/library.md shows it with examples. What is exported here stays
 * as it is within a major version; nothing else of the package is meant for others.
 *
 * Times are seconds from the start of the recording, keys MIDI numbers (60 is middle C). What is wrong with an input or
 * an option is thrown as a CantilenaError of one sentence, in which options have their names on the command line.
 */
import { UsageError } from './errors.js';
import { fingerRightHand } from './hand/fingering.js';
import type { Finger, FingerNote, HandSize } from './hand/types.js';
import type { Melody } from './melody.js';
import { knownBeat } from './pipeline/known-beat.js';
import { listen } from './pipeline/listen.js';
import { measure } from './pipeline/measure.js';
import { checkHearRequest } from './pipeline/options.js';
import { recogniseInput } from './pipeline/read-input.js';
import { transposeMelody } from './pipeline/transpose.js';
import type { Source } from './pitch/types.js';
import { compare as compareSides } from './practice/compare/compare.js';
import type { Comparison } from './practice/compare/types.js';
import { isMinor, keySignature } from './theory/key-signature.js';
import { moveByInterval, moveToTonic } from './theory/moves.js';
import { rankNamedNotes } from './theory/named-notes.js';
import { parseNoteName, parseTonic } from './theory/pitch-names.js';
import type { Key, RankedScale } from './theory/types.js';
import { melodyMidi } from './write/midi/midi.js';
import { melodyMusicXml } from './write/score/musicxml.js';

export { CantilenaError, InputError, NoMelodyError, UsageError } from './errors.js';
export { gradeMelody as grade } from './hand/grade/grade.js';
export type { Grade, GradePart } from './hand/grade/types.js';
export type { Finger, FingerNote, HandPosition, HandSize } from './hand/types.js';
export type { Melody, MelodyNote } from './melody.js';
export type { Source } from './pitch/types.js';
export type { Comparison, LineResult, Mistake, NoteVerdict, Verdict } from './practice/compare/types.js';
export type { Line, Section } from './rhythm/types.js';
export type { NameSystem } from './theory/name-systems.js';
export { noteName } from './theory/pitch-names.js';
export type { Key, Mode, RankedScale } from './theory/types.js';
export { melodyJson as toJson } from './write/json/json.js';
export { noteList as toNoteList } from './write/note-list/note-list.js';

/** What is known of the music; what is left out is worked out. */
export interface MusicOptions {
  /** Beats a minute: quarter notes, or eighths where `beatUnit` is 8. */
  readonly bpm?: number;
  readonly beatsPerBar?: number;
  readonly beatUnit?: 4 | 8;
  /** Seconds of a first beat of a bar. */
  readonly downbeat?: number;
  /** Notes are spelt for it, and it is ranked first: `F# minor`. */
  readonly key?: Key | string;
  /** How far the fingers reach; `medium` where nothing is said. */
  readonly hand?: HandSize;
  readonly fromFinger?: Finger;
}

export interface MelodyOptions extends MusicOptions {
  /** What the input is called in messages. */
  readonly label?: string;
  /** How a recording is heard; `auto`, which decides by itself, where nothing is said. */
  readonly source?: Source | 'auto';
  /** The part of a recording that is heard, seconds. */
  readonly from?: number;
  readonly to?: number;
  /** Lowest and highest pitch to expect in a recording, MIDI numbers. */
  readonly lowest?: number;
  readonly highest?: number;
  /** Gets a sentence for each thing amiss that is no error. */
  readonly onWarning?: (sentence: string) => void;
}

/**
 * The melody in the bytes of a recording (WAV, MP3, FLAC, Ogg Vorbis, Ogg Opus, M4A/AAC), which is heard, or of a note
 * list, melody as JSON or MIDI file, which is read. What it is is told by the content.
 *
 * @throws InputError for what cannot be read, NoMelodyError for what holds no melody, UsageError for options that
 *   cannot be met
 */
export async function melodyOf(input: Uint8Array | string, options: MelodyOptions = {}): Promise<Melody> {
  const label = options.label ?? 'the input';
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input) : input;
  const dressed = dressOf(options);
  const request = checkHearRequest({
    source: options.source ?? 'auto',
    lowestMidi: options.lowest ?? null,
    highestMidi: options.highest ?? null,
  });
  const found = await recogniseInput({ bytes, label });
  const warn = options.onWarning ?? (() => {});
  if (found.kind === 'notes') {
    for (const warning of found.read.warnings) warn(warning);
    return measure(
      { ...found.read, band: null },
      { ...dressed, beat: knownBeat(found.read, beatOf(options)) },
    );
  }
  const part = { from: options.from ?? null, to: options.to ?? null };
  const { input: heard, source } = await listen({ bytes, label }, part, request);
  for (const warning of source.warnings) warn(`${label}: ${warning}`);
  return measure(heard, { ...dressed, beat: beatOf(options) });
}

/**
 * A melody of notes that are known: lines, bars, scales, names and fingers are worked out.
 * @param notes in order of start, none overlapping the next
 * @throws UsageError for no notes, or notes that are none
 */
export function melodyFromNotes(notes: readonly FingerNote[], options: MusicOptions = {}): Melody {
  const right = notes.every(
    ({ midi, start, end }, i) =>
      Number.isInteger(midi) && midi >= 0 && midi <= 127 && end > start && start >= (notes[i - 1]?.end ?? 0),
  );
  if (notes.length === 0 || !right) {
    throw new UsageError(
      'these notes are no melody: give whole MIDI numbers 0 to 127, and starts and ends in order that do not overlap.',
    );
  }
  const whole = notes.map((note) => ({ ...note, pitch: note.midi, confidence: 1, other: null }));
  const facts = { tuningCents: 0, seconds: notes.at(-1)!.end, lineStarts: null, heardAs: null, band: null };
  return measure({ notes: whole, ...facts }, { ...dressOf(options), beat: beatOf(options) });
}

/** The melody as a MIDI file, format 1, with the key signature of its likeliest scale. */
export function toMidi(melody: Melody, title = ''): Uint8Array {
  const best = melody.scales[0];
  const key = best === undefined ? null : { fifths: keySignature(best), minor: isMinor(best.mode) };
  return melodyMidi(melody, { title, key });
}

/** The melody as a score in MusicXML 4.0, with the key signature of its likeliest scale. */
export function toMusicXml(melody: Melody, title = ''): string {
  return melodyMusicXml(melody, { title, key: melody.scales[0] ?? null });
}

/**
 * The scales that hold these notes, best first: names (`F`, `Bb4`) or MIDI numbers. Those of a melody are in it.
 * @throws UsageError for a name that is none
 */
export function scalesOf(notes: readonly (string | number)[], key?: Key | string): RankedScale[] {
  const midis = notes.map((note) => (typeof note === 'number' ? note : noteNumber(note)));
  return rankNamedNotes(midis, keyOf(key) ?? undefined);
}

/** Where a melody is moved: to another tonic, the nearest way, or by an interval (`m3`, `-M2`) or semitones. */
export type Destination = { readonly to: string } | { readonly by: string | number };

/**
 * The melody in another key; names, scales and fingers are worked out anew.
 * @throws UsageError for a key or interval that is none; RangeError where a note would leave the MIDI range
 */
export function transpose(melody: Melody, destination: Destination, hand: HandSize = 'medium'): Melody {
  const [best] = melody.scales;
  const from: Key = { tonic: best?.tonic ?? 'C', mode: best?.mode ?? 'major' };
  if ('to' in destination) {
    return transposeMelody(melody, moveToTonic(from, keyOf(destination.to)!.tonic), hand);
  }
  const move = moveByInterval(from, String(destination.by));
  if (move === null) throw new UsageError(`${destination.by} is no interval: write it as in m3, -M2 or -2.`);
  return transposeMelody(melody, move, hand);
}

/**
 * Fingers of the right hand, one a note.
 * @param settled fingers that stay, null where open
 */
export function fingering(
  notes: readonly FingerNote[],
  hand: HandSize = 'medium',
  settled: readonly (Finger | null)[] = [],
): Finger[] {
  return fingerRightHand(notes, { hand, fixed: settled });
}

/**
 * What became of each note in an attempt at a melody, in any key and at any speed. With `sameKey` only the melody's own
 * key is right, in any octave; `line` (from 1) says that one line was attempted.
 * @throws RangeError for a line that is not there
 */
export function compare(
  target: Melody,
  attempt: Melody,
  { sameKey = false, line = null }: { readonly sameKey?: boolean; readonly line?: number | null } = {},
): Comparison {
  const side = (melody: Melody) => ({ ...melody, heard: melody.recording.heardAs !== null });
  return compareSides(side(target), side(attempt), { sameKey, line });
}

/**
 * MIDI number of a name: `C4` is 60; without its octave it lies in the one of middle C.
 * @throws UsageError for a name that is none
 */
export function noteNumber(name: string): number {
  const midi = parseNoteName(name) ?? parseNoteName(`${name}4`);
  if (midi === null) throw new UsageError(`${name} is not the name of a note: write it as in F, Bb or F#4.`);
  return midi;
}

function keyOf(key: Key | string | undefined): Key | null {
  if (typeof key !== 'string') return key ?? null;
  const parsed = parseTonic(key);
  if (parsed === null) throw new UsageError(`${key} is no key: write it as in F# minor.`);
  return parsed;
}

function dressOf({ key, hand, fromFinger }: MusicOptions) {
  return { key: keyOf(key), hand: hand ?? 'medium', fromFinger: fromFinger ?? null };
}

function beatOf({ bpm, beatsPerBar, beatUnit, downbeat }: MusicOptions) {
  return {
    bpm: bpm ?? null,
    beatsPerBar: beatsPerBar ?? null,
    beatUnit: beatUnit ?? (beatsPerBar === undefined ? null : 4),
    firstDownbeatSeconds: downbeat ?? null,
  };
}
