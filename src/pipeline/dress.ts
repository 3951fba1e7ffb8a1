/** What depends on where the notes lie: the scales that hold them, their names and the fingers on them. */
import { fingerRightHand } from '../hand/fingering.js';
import { handPositions } from '../hand/positions.js';
import type { Finger, HandSize } from '../hand/types.js';
import type { Melody, MelodyNote } from '../melody.js';
import type { Note } from '../notes/types.js';
import type { Line } from '../rhythm/types.js';
import { type KeyRegion, keyRegions, mainScales } from '../theory/regions.js';
import type { HarmonyEvidence, ScaleEvidence } from '../theory/scales.js';
import { spellLine } from '../theory/spell-line.js';
import type { Key } from '../theory/types.js';

/** How many candidate scales a melody keeps. */
const SCALES_KEPT = 8;

export interface DressOptions {
  /** The key to spell in and to rank first; null: the likeliest. */
  readonly key: Key | null;
  readonly hand: HandSize;
  /** Finger of the first note; absent or null: worked out. */
  readonly fromFinger?: Finger | null;
}

export interface Dressed<N extends Note> {
  readonly notes: readonly (N & Pick<MelodyNote, 'name' | 'finger' | 'fingerFixed'>)[];
  readonly hand: NonNullable<Melody['hand']>;
  readonly scales: Melody['scales'];
}

/**
 * Names, fingers and scales for notes in their lines. Pure; `notes` must not be empty.
 *
 * @param fixed fingers that are settled, one a note, null where open
 * @param harmony what a band plays under the melody, where it is known
 */
export function dressNotes<N extends Note>(
  notes: readonly N[],
  lines: readonly Line[],
  { key, hand, fromFinger = null }: DressOptions,
  fixed: readonly (Finger | null)[] = [],
  harmony: HarmonyEvidence | null = null,
): Dressed<N> {
  const evidence = scaleEvidence(notes, lines);
  // A key that was given holds from first to last.
  const regions = key === null ? keyRegions(evidence, SCALES_KEPT) : [];
  const scales = mainScales(evidence, regions, key, harmony, SCALES_KEPT);
  const names = namesOf(notes, regions, key, scales[0]!);
  const fingers = fingerRightHand(notes, { hand, lines, fixed, fromFinger });
  const dressed: Dressed<N>['notes'][number][] = [];
  for (const [i, note] of notes.entries()) {
    dressed.push({
      ...note,
      name: names[i]!,
      finger: fingers[i]!,
      fingerFixed: (fixed[i] ?? null) !== null,
    });
  }
  return {
    notes: dressed,
    hand: handPositions(notes, fingers, lines),
    scales,
  };
}

/** Names in the key that was given, else in the likeliest; where a song changes its key, each region in its own. */
function namesOf(
  notes: readonly Note[],
  regions: readonly KeyRegion[],
  given: Key | null,
  best: Key,
): readonly string[] {
  const midis = notes.map((note) => note.midi);
  if (regions.length < 2) return spellLine(midis, given ?? best);
  return regions.flatMap(({ first, last, scales }) => spellLine(midis.slice(first - 1, last), scales[0]!));
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
