import { fingerRightHand } from '../hand/fingering.js';
import type { HandSize } from '../hand/types.js';
import type { Melody, MelodyNote } from '../melody.js';
import type { Note } from '../notes/types.js';
import type { HeardAs } from '../pitch/types.js';
import { linesFrom, linesOf } from '../rhythm/lines.js';
import { placeNotes } from '../rhythm/place.js';
import { steadyBeats } from '../rhythm/steady-beats.js';
import type { Line } from '../rhythm/types.js';
import { noteName } from '../theory/pitch-names.js';
import { rankScales } from '../theory/scales.js';
import type { Key, ScaleCandidate } from '../theory/types.js';

/** Notes with what is known about them, however they came: heard, or read from a list or a MIDI file. */
export interface MeasureInput {
  readonly notes: readonly Note[];
  readonly tuningCents: number;
  /** Length of the recording in seconds. */
  readonly seconds: number;
  /** Numbers (from 1) of the notes that start a line, or null to find the lines. */
  readonly lineStarts: readonly number[] | null;
  /** What the recording was heard as; null where that is not known. */
  readonly heardAs: HeardAs | null;
}

export interface MeasureOptions {
  /** Beats a minute, or null where no beat is known. */
  readonly bpm: number | null;
  readonly beatsPerBar: number;
  /** Seconds of the first downbeat; null: the first note. */
  readonly firstDownbeat: number | null;
  /** The key to spell in and to rank first; null: the likeliest. */
  readonly key: Key | null;
  readonly hand: HandSize;
}

/** How many candidate scales a melody keeps. */
const SCALES_KEPT = 8;

/** Notes → melody: lines, places in the bar, scales, spelling, fingers. Pure; `notes` must not be empty. */
export function measure(input: MeasureInput, options: MeasureOptions): Melody {
  const { notes } = input;
  const lines = linesFor(input);
  const lineOf = (i: number) => lines.findIndex((l) => i + 1 >= l.first && i + 1 <= l.last) + 1;
  const scales = scalesFor(notes, lines, options.key);
  const spelling = options.key ?? { tonic: scales[0].tonic, mode: scales[0].mode };
  const firstDownbeat = options.bpm === null ? null : (options.firstDownbeat ?? notes[0].start);
  const places = placeNotes(
    notes,
    options.bpm === null || firstDownbeat === null
      ? null
      : steadyBeats(
          {
            bpm: options.bpm,
            beatsPerBar: options.beatsPerBar,
            beatUnit: 4,
            firstDownbeatSeconds: firstDownbeat,
          },
          Math.max(...notes.map((note) => note.end)),
          notes[0].start,
        ),
  );
  const fingers = fingerRightHand(notes, { hand: options.hand });
  return {
    recording: { seconds: input.seconds, heardAs: input.heardAs },
    tuningCents: input.tuningCents,
    tempo: { bpm: options.bpm, beats: [] },
    meter: {
      beatsPerBar: options.bpm === null ? null : options.beatsPerBar,
      beatUnit: options.bpm === null ? null : 4,
      firstDownbeat,
    },
    notes: notes.map(
      (note, i): MelodyNote => ({
        ...note,
        ...places[i],
        name: noteName(note.midi, spelling),
        line: lineOf(i),
        finger: fingers[i],
      }),
    ),
    lines,
    sections: [],
    scales,
  };
}

function linesFor({ notes, lineStarts }: MeasureInput): Line[] {
  return lineStarts === null
    ? linesOf(notes)
    : linesFrom(
        notes,
        lineStarts.map((number) => number - 1),
      );
}

function scalesFor(notes: readonly Note[], lines: readonly Line[], key: Key | null): ScaleCandidate[] {
  const lastOfLine = new Set(lines.map((l) => l.last - 1));
  const evidence = notes.map((n, i) => ({
    midi: n.midi,
    weight: n.end - n.start,
    lineEnd: lastOfLine.has(i),
    confidence: n.confidence,
  }));
  return rankScales(evidence, key ?? undefined).slice(0, SCALES_KEPT);
}
