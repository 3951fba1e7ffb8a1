import type { Melody } from '../melody.js';
import { homeOf } from '../theory/degrees.js';
import type { NameSystem } from '../theory/name-systems.js';
import type { Naming } from '../theory/naming.js';

/** How the notes of a melody are named in a system; degrees count from the tonic of its best scale, from C without one. */
export function namingOf({ notes, scales }: Pick<Melody, 'notes' | 'scales'>, system: NameSystem): Naming {
  if (system !== 'degrees') return { system };
  const midis = notes.map((note) => note.midi);
  return { system, home: homeOf(scales[0]?.tonic ?? 'C', midis) };
}
