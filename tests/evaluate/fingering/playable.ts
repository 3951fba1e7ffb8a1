/** Whether pop melodies stay within reach of the hand, and how fast they are fingered. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fingerRightHand } from '../../../src/hand/fingering.js';
import { handPositions } from '../../../src/hand/positions.js';
import { isPlayable } from '../../../src/hand/rules.js';
import { type SpanTable, spanTable } from '../../../src/hand/spans.js';
import { strokesOf } from '../../../src/hand/strokes.js';
import type { FingerNote, HandSize, Stroke } from '../../../src/hand/types.js';
import { linesOf } from '../../../src/rhythm/lines/lines.js';
import type { Line } from '../../../src/rhythm/types.js';
import { alignTable } from '../report.js';

interface RawSong {
  readonly bpm: number;
  readonly notes: readonly (readonly number[])[];
}

/** Melodies written in sixteenths, `[midi, length]`, 0 for a rest. */
function written({ bpm, notes }: RawSong): FingerNote[] {
  const seconds = 15 / bpm;
  let at = 0;
  return notes.flatMap(([midi, length]) => {
    const start = at;
    at += length!;
    return midi === 0 ? [] : [{ midi: midi!, start: start * seconds, end: at * seconds }];
  });
}

/** Melodies as played, `[start, length, midi]` in seconds. */
function played({ notes }: RawSong): FingerNote[] {
  return notes.map(([start, length, midi]) => ({ midi: midi!, start: start!, end: start! + length! }));
}

const FILES = [
  { path: 'phrases/pop909-phrases.jsonl', notesOf: written },
  { path: 'keys/pop909-melodies.jsonl', notesOf: played },
];

interface Song {
  readonly notes: readonly FingerNote[];
  readonly lines: readonly Line[];
}

/** A pair that asks for more than the hand's span, with no rest to move in. */
function isBeyond(spans: SpanTable, f1: number, from: Stroke, f2: number, to: Stroke): boolean {
  return !to.afterRest && from.midi !== to.midi && !isPlayable(spans, f1, from.midi, f2, to.midi);
}

/** Fewest such pairs that any fingering of the melody has. */
export function fewestBeyond(strokes: readonly Stroke[], spans: SpanTable): number {
  let counts = [0, 0, 0, 0, 0];
  for (let i = 1; i < strokes.length; i++) {
    counts = counts.map((_, f) =>
      Math.min(
        ...counts.map(
          (count, g) => count + (isBeyond(spans, g + 1, strokes[i - 1]!, f + 1, strokes[i]!) ? 1 : 0),
        ),
      ),
    );
  }
  return Math.min(...counts);
}

function rowOf(label: string, songs: readonly Song[], hand: HandSize): string[] {
  const spans = spanTable(hand);
  let notes = 0;
  let beyond = 0;
  let fewest = 0;
  let positions = 0;
  const milliseconds: number[] = [];
  for (const song of songs) {
    const from = performance.now();
    const fingers = fingerRightHand(song.notes, { hand, lines: song.lines });
    milliseconds.push((1000 * (performance.now() - from)) / song.notes.length);
    const strokes = strokesOf(song.notes, song.lines);
    notes += strokes.length;
    strokes.forEach((stroke, i) => {
      if (i > 0 && isBeyond(spans, fingers[i - 1]!, strokes[i - 1]!, fingers[i]!, stroke)) beyond++;
    });
    fewest += fewestBeyond(strokes, spans);
    positions += handPositions(song.notes, fingers).length;
  }
  milliseconds.sort((a, b) => a - b);
  return [
    `${label}, ${hand} hand`,
    String(songs.length),
    String(notes),
    String(beyond),
    String(fewest),
    String(beyond - fewest),
    (notes / positions).toFixed(1),
    milliseconds[Math.floor(milliseconds.length / 2)]!.toFixed(1),
  ];
}

/** Null where neither file is there. */
export function playableTable(root: string): string | null {
  const rows = FILES.filter(({ path }) => existsSync(join(root, path))).flatMap(({ path, notesOf }) => {
    const songs = readFileSync(join(root, path), 'utf8')
      .split('\n')
      .filter((line) => line.trim() !== '')
      .map((line) => notesOf(JSON.parse(line) as RawSong))
      .map((notes) => ({ notes, lines: linesOf(notes) }));
    return (['small', 'medium', 'large'] as const).map((hand) => rowOf(path, songs, hand));
  });
  if (rows.length === 0) return null;
  const head = [
    'melodies',
    'songs',
    'notes',
    'beyond span',
    'unavoidable',
    'avoidable',
    'notes a position',
    'ms per 1000',
  ];
  return alignTable(head, rows);
}
