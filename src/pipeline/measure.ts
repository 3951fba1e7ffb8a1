import { middleOf } from '../dsp/median.js';
import { gradeMelody } from '../hand/grade/grade.js';
import type { Finger } from '../hand/types.js';
import type { Melody } from '../melody.js';
import type { Note } from '../notes/types.js';
import type { HeardAs } from '../pitch/types.js';
import { findBeats } from '../rhythm/beats/beats.js';
import { sectionsOf } from '../rhythm/form/sections.js';
import { linesFrom, linesOf } from '../rhythm/lines/lines.js';
import { placeNotes } from '../rhythm/places/place.js';
import type { BandBeats, BandHarmony, Beats, BeatsKnown, Line, WrittenNotes } from '../rhythm/types.js';
import { type DressOptions, dressNotes } from './dress.js';

/** Notes with what is known about them, however they came: heard, or read from a list or a MIDI file. */
export interface MeasureInput {
  readonly notes: readonly Note[];
  readonly tuningCents: number;
  /** Length of the recording in seconds. */
  readonly seconds: number;
  /** Numbers (from 1) of the notes that start a line, or null to find the lines. */
  readonly lineStarts: readonly number[] | null;
  /** Fingers that are settled, one a note, null where open; absent: all open. */
  readonly fixedFingers?: readonly (Finger | null)[];
  /** What the recording was heard as; null where that is not known. */
  readonly heardAs: HeardAs | null;
  /** Beats heard in the band, null where there is none or they are not known. */
  readonly band: BandBeats | null;
  /** Which pitch classes sound beside the melody; absent or null where there is no band or that is not known. */
  readonly harmony?: BandHarmony | null;
}

export interface MeasureOptions extends DressOptions {
  /** What is known of the beat; the rest is found from the notes and the band. */
  readonly beat: BeatsKnown;
}

/** A tempo given beside beats stands where it differs from theirs by less than this share: rounding (our choice). */
const GIVEN_TEMPO_SHARE = 0.01;

/** Notes → melody: beats, places in the bar, lines, sections, scales, spelling, fingers, grade. Pure; `notes` must not be empty. */
export function measure(input: MeasureInput, options: MeasureOptions): Melody {
  const { notes } = input;
  const beats = findBeats(notes, options.beat, input.band);
  const places = placeNotes(notes, beats);
  const written = beats === null ? null : { places, beatsPerBar: beats.beatsPerBar };
  const lines = linesFor(input, written);
  const lineOf = (i: number) => lines.findIndex((l) => i + 1 >= l.first && i + 1 <= l.last) + 1;
  const placed = notes.map((note, i) => ({ ...note, ...places[i]!, line: lineOf(i) }));
  const dressed = dressNotes(placed, lines, options, input.fixedFingers, input.harmony);
  const melody = {
    recording: { seconds: input.seconds, heardAs: input.heardAs },
    tuningCents: input.tuningCents,
    ...tempoAndMeter(beats, options.beat),
    notes: dressed.notes,
    lines,
    sections: sectionsOf(lines, notes, written),
    hand: dressed.hand,
    scales: dressed.scales,
    ...(input.harmony ? { harmony: input.harmony } : {}),
  };
  return { ...melody, grade: gradeMelody(melody) };
}

/**
 * The tempo is that of the middle beat, to a ten-thousandth; where beats were given, which may have been rounded, a
 * tempo that was given with them stands if it agrees.
 */
function tempoAndMeter(beats: Beats | null, known: BeatsKnown): Pick<Melody, 'tempo' | 'meter'> {
  if (beats === null) {
    return {
      tempo: { bpm: null, beats: [] },
      meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
    };
  }
  const { seconds, beatsPerBar, beatUnit, firstDownbeat } = beats;
  const spans = seconds.slice(1).map((time, i) => time - seconds[i]);
  const middle = middleOf(spans)!;
  const agrees =
    known.beatSeconds && known.bpm !== null && Math.abs((known.bpm * middle) / 60 - 1) < GIVEN_TEMPO_SHARE;
  return {
    tempo: { bpm: agrees ? known.bpm : Math.round(6e5 / middle) / 1e4, beats: seconds },
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
