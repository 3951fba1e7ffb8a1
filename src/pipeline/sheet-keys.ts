import type { HandSize } from '../hand/types.js';
import type { Melody } from '../melody.js';
import { usualTonic } from '../theory/key-signature.js';
import { nameParts } from '../theory/tonal-tables.js';
import { transposeMelody } from './transpose.js';

/** A melody moved to another key. */
export interface MovedMelody {
  /** Semitones up, −6..5; 0 is the melody as it was. */
  readonly semitones: number;
  readonly melody: Melody;
}

/** As in theory/moves.ts, a move of six semitones goes down. */
const MOVES: readonly number[] = [-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5];

/**
 * The melody in every key, lowest first, each with the names of its key and its own fingers; the melody itself, as it
 * is, among them. Moves that would leave the MIDI numbers 0..127 are left out, and all of them where no scale is known.
 */
export function inEveryKey(melody: Melody, hand: HandSize): MovedMelody[] {
  const midis = melody.notes.flatMap(({ midi, other }) => (other === null ? [midi] : [midi, other]));
  const [best] = melody.scales;
  return MOVES.filter((by) => midis.every((midi) => midi + by >= 0 && midi + by <= 127)).flatMap(
    (semitones) => {
      if (semitones === 0) return [{ semitones, melody }];
      if (best === undefined) return [];
      const tonic = usualTonic((nameParts(best.tonic)!.pitchClass + semitones + 12) % 12, best.mode);
      const move = { key: { tonic, mode: best.mode }, semitones };
      return [{ semitones, melody: transposeMelody(melody, move, hand) }];
    },
  );
}
