/** What depends on where the notes lie: the scales that hold them, their names and the fingers on them. */
import { fingerRightHand } from '../hand/fingering.js';
import type { HandSize } from '../hand/types.js';
import type { Melody, MelodyNote } from '../melody.js';
import type { Note } from '../notes/types.js';
import type { Line } from '../rhythm/types.js';
import { rankScales, type ScaleEvidence } from '../theory/scales.js';
import { spellLine } from '../theory/spell-line.js';
import type { Key } from '../theory/types.js';

/** How many candidate scales a melody keeps. */
const SCALES_KEPT = 8;

export interface DressOptions {
  /** The key to spell in and to rank first; null: the likeliest. */
  readonly key: Key | null;
  readonly hand: HandSize;
}

export interface Dressed<N extends Note> {
  readonly notes: readonly (N & Pick<MelodyNote, 'name' | 'finger'>)[];
  readonly scales: Melody['scales'];
}

/** Names, fingers and scales for notes in their lines. Pure; `notes` must not be empty. */
export function dressNotes<N extends Note>(
  notes: readonly N[],
  lines: readonly Line[],
  { key, hand }: DressOptions,
): Dressed<N> {
  const scales = rankScales(scaleEvidence(notes, lines), key ?? undefined).slice(0, SCALES_KEPT);
  const [best] = scales;
  const spelling = key ?? { tonic: best!.tonic, mode: best!.mode };
  const names = spellLine(
    notes.map((note) => note.midi),
    spelling,
  );
  const fingers = fingerRightHand(notes, { hand });
  return {
    notes: notes.map((note, i) => ({
      ...note,
      name: names[i]!,
      finger: fingers[i]!,
    })),
    scales,
  };
}

/** What the notes and lines of a melody tell about its scales. */
export function scaleEvidence(notes: readonly Note[], lines: readonly Line[]): ScaleEvidence[] {
  const lastOfLine = new Set(lines.map((l) => l.last - 1));
  return notes.map((n, i) => ({
    midi: n.midi,
    weight: n.end - n.start,
    lineEnd: lastOfLine.has(i),
    confidence: n.confidence,
    ...(i + 1 < notes.length ? { silenceAfter: Math.max(0, notes[i + 1]!.start - n.end) } : {}),
  }));
}
