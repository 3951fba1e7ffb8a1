import type { Melody } from '../../melody.js';
import { rounded } from '../numbers.js';
import { scaleJson } from './scale-json.js';
import type { MelodyJson } from './schema.js';

/** Decimals: times to 0.1 ms, pitch to 0.1 cent, probabilities and beats to a thousandth. */
const TIME = 4;
const PITCH = 3;
const PROBABILITY = 3;
const BEAT = 3;
const CENTS = 2;
const BPM = 3;
/** Decimals of what a grade is made of; its level has one. */
const GRADE = 3;

/**
 * The melody as one JSON object (docs/melody-json.md, docs/melody.schema.json), laid out with one note, one
 * line of the song and one scale to a line of text, so that two versions can be compared line by line.
 * Ends with a newline.
 */
export function melodyJson(melody: Melody): string {
  const {
    format,
    version,
    recording,
    tuningCents,
    tempo,
    meter,
    notes,
    lines,
    sections,
    hand,
    scales,
    grade,
  } = toJson(melody);
  const head = Object.entries({
    format,
    version,
    recording,
    tuningCents,
    tempo,
    meter,
  });
  const lists = Object.entries({ notes, lines, sections: sections ?? [], ...(hand ? { hand } : {}), scales });
  const parts = [
    ...head.map(([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)}`),
    ...lists.map(([key, items]) => `  ${JSON.stringify(key)}: ${list(items)}`),
    `  "grade": ${JSON.stringify(grade)}`,
  ];
  return `{\n${parts.join(',\n')}\n}\n`;
}

function list(items: readonly unknown[]): string {
  if (items.length === 0) return '[]';
  return `[\n${items.map((item) => `    ${JSON.stringify(item)}`).join(',\n')}\n  ]`;
}

function toJson(melody: Melody): MelodyJson {
  const { tempo, meter } = melody;
  return {
    format: 'cantilena-melody',
    version: 1,
    recording: {
      seconds: rounded(melody.recording.seconds, TIME),
      source: melody.recording.heardAs?.source ?? null,
      why: melody.recording.heardAs?.why ?? null,
    },
    tuningCents: rounded(melody.tuningCents, CENTS),
    tempo: { bpm: orNull(tempo.bpm, BPM), beats: tempo.beats.map((time) => rounded(time, TIME)) },
    meter: {
      beatsPerBar: orNull(meter.beatsPerBar, BEAT),
      beatUnit: meter.beatUnit,
      firstDownbeat: orNull(meter.firstDownbeat, TIME),
    },
    notes: melody.notes.map((note) => ({
      start: rounded(note.start, TIME),
      end: rounded(note.end, TIME),
      midi: note.midi,
      pitch: rounded(note.pitch, PITCH),
      name: note.name,
      confidence: rounded(note.confidence, PROBABILITY),
      other: note.other,
      line: note.line,
      bar: note.bar,
      beat: orNull(note.beat, BEAT),
      beats: orNull(note.beats, BEAT),
      finger: note.finger,
      ...(note.fingerFixed ? { fingerFixed: true } : {}),
    })),
    lines: melody.lines.map((line) => ({
      start: rounded(line.start, TIME),
      end: rounded(line.end, TIME),
      first: line.first,
      last: line.last,
      like: line.like,
    })),
    sections: melody.sections.map(({ letter, first, last }) => ({ letter, first, last })),
    ...(melody.hand ? { hand: melody.hand.map(({ first, thumb }) => ({ first, thumb })) } : {}),
    scales: melody.scales.map(scaleJson),
    grade: {
      level: melody.grade.level,
      reasons: [...melody.grade.reasons],
      parts: melody.grade.parts.map(({ what, value, adds }) => ({
        what,
        value: orNull(value, GRADE),
        adds: rounded(adds, GRADE),
      })),
    },
  };
}

function orNull(value: number | null, decimals: number): number | null {
  return value === null ? null : rounded(value, decimals);
}
