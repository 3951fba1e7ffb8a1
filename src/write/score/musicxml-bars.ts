/** The measures of a melody that has bars. */
import type { Melody, MelodyNote } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { type BeatClock, beatClock } from '../beat-clock.js';
import { noteMarks, startsLine, tempoMark, tempoUnit } from './musicxml-marks.js';
import { barAccidentals, noteElement } from './musicxml-note.js';
import { type Bar, type Piece, writtenBars } from './written-bars.js';
import { type Beam, beamsOf } from './written-beams.js';
import { BEAT_TICKS, type WrittenMeter } from './written-meter.js';
import { writtenLine } from './written-notes.js';
import { type Element, element } from './xml.js';

/** A tempo is written again where that of a bar differs by this share from the last one written (our choice). */
const TEMPO_DRIFT = 0.05;

/**
 * @param head what stands in `attributes` of the first measure, after the divisions and before the clef: the key
 * @param clef the last of it
 * @param names in which system words name notes
 */
export function measures(
  melody: Melody,
  meter: WrittenMeter,
  fifths: number,
  key: readonly Element[],
  clef: Element,
  names: NameSystem = 'english',
): Element[] {
  const line = writtenLine(melody.notes, meter);
  const bars = writtenBars(line, meter);
  const breaks = systemBreaks(melody, bars, meter);
  const tempos = barTempos(melody, bars, meter);
  const marks = noteMarks(melody, names);
  const indexOf = new Map(melody.notes.map((note, index) => [note, index]));
  return bars.map((bar, index) => {
    const attributes = element('attributes', [
      element('divisions', meter.quarterTicks),
      ...key,
      element('time', [element('beats', meter.beatsPerBar), element('beat-type', meter.beatUnit)]),
      clef,
    ]);
    const isLast = index === bars.length - 1;
    return element(
      'measure',
      [
        ...(breaks.has(index) ? [element('print', [], { 'new-system': 'yes' })] : []),
        ...(index === 0 ? [attributes] : []),
        ...tempos[index]!,
        ...barContent(bar, meter, fifths, (note) => marks(indexOf.get(note)!)),
        ...(isLast ? [element('barline', [element('bar-style', 'light-heavy')], { location: 'right' })] : []),
      ],
      { number: String(bar.number), ...(bar.number < 1 ? { implicit: 'yes' } : {}) },
    );
  });
}

/** Notes and rests of a bar, each with its directions before it. */
function barContent(
  bar: Bar,
  meter: WrittenMeter,
  fifths: number,
  marksOf: (note: MelodyNote) => Element[],
): Element[] {
  const accidentals = barAccidentals(fifths);
  const beams = beamsOf(bar, meter);
  const content: Element[] = [];
  for (const [index, piece] of bar.pieces.entries()) {
    const { written, value, start, end, tiedFrom, tiedTo, third } = piece;
    const note = written?.note ?? null;
    const begun = note === null || tiedFrom ? null : note;
    const element = noteElement(
      note,
      {
        duration: start === end ? null : end - start,
        value,
        tiedFrom,
        tiedTo,
        threeOf: third ? (meter.beatUnit === 8 ? '16th' : 'eighth') : null,
        tuplet: third ? tupletEdges(bar.pieces, index, beams) : null,
        beams: beams[index]!,
        stem: 'usual',
      },
      begun === null ? null : accidentals.needed(begun),
    );
    if (begun !== null) content.push(...marksOf(begun));
    content.push(element);
  }
  return content;
}

/** Whether a piece of a beat cut in three begins or ends it; a bracket where not all of it is under a beam. */
function tupletEdges(pieces: readonly Piece[], index: number, beams: readonly (readonly Beam[])[]) {
  const beat = (piece: Piece) => Math.floor(piece.start / BEAT_TICKS);
  const group = pieces.flatMap((piece, i) =>
    piece.third && piece.start < piece.end && beat(piece) === beat(pieces[index]!) ? [i] : [],
  );
  return {
    begins: index === group[0],
    ends: index === group.at(-1),
    bracket: !group.every((i) => beams[i]!.length > 0),
  };
}

/**
 * Indices of the bars that begin a system: where a line of the song begins. A line that begins past the
 * middle of a bar in which the line before it still has a note begins its system with the next bar.
 */
function systemBreaks({ notes }: Melody, bars: readonly Bar[], { barTicks }: WrittenMeter): Set<number> {
  const breaks = new Set<number>();
  bars.forEach((bar, index) => {
    const here = new Set(bar.pieces.flatMap(({ written }) => (written === null ? [] : [written.note])));
    for (const { written, start, tiedFrom } of bar.pieces) {
      if (written === null || tiedFrom) continue;
      const number = notes.indexOf(written.note);
      if (number === 0 || !startsLine({ notes }, number)) continue;
      const late = bar.end - start < barTicks / 2;
      breaks.add(late && here.has(notes[number - 1]!) && index + 1 < bars.length ? index + 1 : index);
    }
  });
  breaks.delete(0);
  return breaks;
}

/** The tempo marks of each bar: the first, which shows the tempo of the melody, and later ones where it has drifted. */
function barTempos(melody: Melody, bars: readonly Bar[], meter: WrittenMeter): Element[][] {
  const clock = beatClock(melody);
  if (clock === null) return bars.map(() => []);
  const unit = tempoUnit(meter.beatUnit, meter.beatsPerBar);
  let written: number | null = null;
  return bars.map((bar) => {
    const bpm = paceOf(bar, clock);
    if (written !== null && Math.abs(bpm / written - 1) <= TEMPO_DRIFT) return [];
    const mark = tempoMark(bpm, unit, written === null ? (melody.tempo.bpm ?? bpm) : null);
    written = bpm;
    return [mark];
  });
}

/** Beats a minute in a bar. */
function paceOf({ start, end }: Bar, clock: BeatClock): number {
  const [from, to] = [start / BEAT_TICKS, end / BEAT_TICKS];
  return (60 * (to - from)) / (clock.secondsAt(to) - clock.secondsAt(from));
}
