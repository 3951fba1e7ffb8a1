/** Files of true notes and true pitch, text to data. Every reader is strict: a bad line is an error that names it. */
import { hzToMidi } from '../../src/units.js';
import type { MelodyReference } from './melody-scores.js';
import type { ScoredNote } from './note-scores.js';

function rows(text: string, separator: RegExp, columns: number, label: string): number[][] {
  return text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line, index) => {
      const values = line.split(separator).map(Number);
      if (values.length < columns || values.some((v) => !Number.isFinite(v))) {
        throw new Error(`${label}: row ${index + 1} is not ${columns} numbers: "${line}".`);
      }
      return values;
    });
}

/** Notes as lines of onset seconds, offset seconds and fractional MIDI number, parted by spaces or tabs. */
export function readNoteLines(text: string, label: string): ScoredNote[] {
  return rows(text, /\s+/, 3, label).map(([start, end, pitch]) => ({
    start: start!,
    end: end!,
    pitch: pitch!,
  }));
}

/** Notes as rows of onset seconds, hertz and length in seconds, parted by commas. */
export function readNoteRows(text: string, label: string): ScoredNote[] {
  return rows(text, /,/, 3, label).map(([start, hz, length]) => ({
    start: start!,
    end: start! + length!,
    pitch: hzToMidi(hz!),
  }));
}

/** Pitch as rows of seconds and hertz, parted by commas; 0 Hz is no voice. */
export function readPitchRows(text: string, label: string): MelodyReference {
  const values = rows(text, /,/, 2, label);
  return melodyOf(
    values.map((row) => row[0]!),
    values.map((row) => row[1]!),
  );
}

/** Seconds from one line of a karaoke clip's pitch to the next. */
const PITCH_LINE_SECONDS = 0.02;

/** Pitch as lines of one MIDI number, 0 for no voice; line n, from 1, is centred at n · 20 ms. */
export function readPitchLines(text: string, label: string): MelodyReference {
  const pitch = rows(text, /\s+/, 1, label).map((row) => row[0]!);
  return {
    times: Float64Array.from(pitch, (_, i) => (i + 1) * PITCH_LINE_SECONDS),
    pitch: Float64Array.from(pitch),
    voiced: pitch.map((p) => p > 0),
  };
}

/** What a file of a rendered case holds that is scored. */
export interface RenderedTruth {
  readonly notes: ScoredNote[];
  /** Null where the case has no pitch track (a piano). */
  readonly melody: MelodyReference | null;
}

/** A rendered case: JSON with `notes` of `on`, `off`, `midi`, and for voices `f0Hz` every `f0HopSeconds` from 0. */
export function readRenderedTruth(text: string, label: string): RenderedTruth {
  const data = JSON.parse(text) as {
    notes?: { on: number; off: number; midi: number }[];
    f0HopSeconds?: number;
    f0Hz?: number[];
  };
  if (!Array.isArray(data.notes)) throw new Error(`${label}: there is no list called notes.`);
  const { f0Hz, f0HopSeconds } = data;
  return {
    notes: data.notes.map((n) => ({ start: n.on, end: n.off, pitch: n.midi })),
    melody:
      f0Hz && f0HopSeconds
        ? melodyOf(
            f0Hz.map((_, i) => i * f0HopSeconds),
            f0Hz,
          )
        : null,
  };
}

function melodyOf(times: readonly number[], hz: readonly number[]): MelodyReference {
  return {
    times: Float64Array.from(times),
    pitch: Float64Array.from(hz, (f) => (f > 0 ? hzToMidi(f) : 0)),
    voiced: hz.map((f) => f > 0),
  };
}
