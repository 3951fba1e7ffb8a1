import type { Melody } from '../melody.js';
import { ENGLISH, type Naming, nameIn } from '../theory/naming.js';
import { noteName } from '../theory/pitch-names.js';

/**
 * Names the next likeliest key of a doubtful note, with octave: a note of the melody on the same key
 * lends its spelling, failing that it is spelt for the best scale.
 */
export function otherNamer(
  melody: Pick<Melody, 'notes' | 'scales'>,
  naming: Naming = ENGLISH,
): (midi: number) => string {
  const seen = new Map<number, string>();
  for (const { midi, name } of melody.notes) seen.set(midi, nameIn(name, naming));
  const best = melody.scales[0];
  return (midi) => seen.get(midi) ?? nameIn(noteName(midi, best), naming);
}
