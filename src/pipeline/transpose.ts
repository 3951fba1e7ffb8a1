/** Melody → the same melody in another key. */
import { gradeMelody } from '../hand/grade/grade.js';
import type { Finger, HandSize } from '../hand/types.js';
import type { Melody, MelodyNote } from '../melody.js';
import type { BandHarmony } from '../rhythm/types.js';
import type { Move } from '../theory/moves.js';
import { dressNotes } from './dress.js';

/**
 * Moves every note by the same number of semitones. Times, bars, lines and form stay; names, scales, fingers and the grade are
 * worked out anew, because black keys lie elsewhere, also where fingers were settled. The move's key is ranked first and spelt in.
 * @throws RangeError where a note would leave the MIDI range 0..127
 */
export function transposeMelody(
  melody: Melody,
  { key, semitones }: Move,
  hand: HandSize,
  fromFinger: Finger | null = null,
): Melody {
  const moved: MelodyNote[] = [];
  for (const note of melody.notes) {
    const midi = note.midi + semitones;
    if (midi < 0 || midi > 127) throw new RangeError('a note leaves the MIDI range');
    const other = note.other === null ? null : note.other + semitones;
    moved.push({ ...note, midi, pitch: note.pitch + semitones, other });
  }
  const { harmony, ...rest } = melody;
  const dressed = {
    ...rest,
    ...(harmony && { harmony: movedHarmony(harmony, semitones) }),
    ...dressNotes(moved, melody.lines, { key, hand, fromFinger }),
  };
  return { ...dressed, grade: gradeMelody(dressed) };
}

/** The band moves with the singer. */
function movedHarmony({ chroma, bass }: BandHarmony, semitones: number): BandHarmony {
  const moved = (shares: readonly number[]) =>
    shares.map((_, to) => shares[(((to - semitones) % 12) + 12) % 12]!);
  return { chroma: moved(chroma), bass: moved(bass) };
}
