import { fingerRightHand } from '../hand/fingering.js';
import type { HandSize } from '../hand/types.js';
import type { Melody, MelodyNote } from '../melody.js';
import type { Note } from '../notes/types.js';
import type { HeardAs } from '../pitch/types.js';
import { findBeats } from '../rhythm/beats/beats.js';
import { sectionsOf } from '../rhythm/form/sections.js';
import { linesFrom, linesOf } from '../rhythm/lines/lines.js';
import { placeNotes } from '../rhythm/places/place.js';
import type { BandBeats, Beats, BeatsKnown, Line, WrittenNotes } from '../rhythm/types.js';
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
  /** Beats heard in the band, null where there is none or they are not known. */
  readonly band: BandBeats | null;
}

export interface MeasureOptions {
  /** What is known of the beat; the rest is found from the notes and the band. */
  readonly beat: BeatsKnown;
  /** The key to spell in and to rank first; null: the likeliest. */
  readonly key: Key | null;
  readonly hand: HandSize;
}

/** How many candidate scales a melody keeps. */
const SCALES_KEPT = 8;

/** Notes → melody: beats, places in the bar, lines, sections, scales, spelling, fingers. Pure; `notes` must not be empty. */
export function measure(input: MeasureInput, options: MeasureOptions): Melody {
  const { notes } = input;
  const beats = findBeats(notes, options.beat, input.band);
  const places = placeNotes(notes, beats);
  const written = beats === null ? null : { places, beatsPerBar: beats.beatsPerBar };
  const lines = linesFor(input, written);
  const lineOf = (i: number) => lines.findIndex((l) => i + 1 >= l.first && i + 1 <= l.last) + 1;
  const scales = scalesFor(notes, lines, options.key);
  const spelling = options.key ?? { tonic: scales[0].tonic, mode: scales[0].mode };
  const fingers = fingerRightHand(notes, { hand: options.hand });
  return {
    recording: { seconds: input.seconds, heardAs: input.heardAs },
    tuningCents: input.tuningCents,
    ...tempoAndMeter(beats),
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
    sections: sectionsOf(lines, notes, written),
    scales,
  };
}

/** The tempo is that of the middle beat, to a ten-thousandth. */
function tempoAndMeter(beats: Beats | null): Pick<Melody, 'tempo' | 'meter'> {
  if (beats === null) {
    return {
      tempo: { bpm: null, beats: [] },
      meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
    };
  }
  const { seconds, beatsPerBar, beatUnit, firstDownbeat } = beats;
  const spans = seconds.slice(1).map((time, i) => time - seconds[i]);
  const middle = spans.sort((a, b) => a - b)[Math.floor(spans.length / 2)];
  return {
    tempo: { bpm: Math.round(6e5 / middle) / 1e4, beats: seconds },
    meter: { beatsPerBar, beatUnit, firstDownbeat: seconds[firstDownbeat] },
  };
}

function linesFor({ notes, lineStarts }: MeasureInput, written: WrittenNotes | null): Line[] {
  return lineStarts === null
    ? linesOf(notes, written)
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
    ...(i + 1 < notes.length ? { silenceAfter: Math.max(0, notes[i + 1].start - n.end) } : {}),
  }));
  return rankScales(evidence, key ?? undefined).slice(0, SCALES_KEPT);
}
