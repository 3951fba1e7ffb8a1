import type { RankedScale } from '../../theory/types.js';
import { rounded } from '../numbers.js';
import type { MelodyJson } from './schema.js';

/** Decimals of a probability. */
const PROBABILITY = 3;

/** A ranked scale as JSON holds it. */
export function scaleJson(scale: RankedScale): MelodyJson['scales'][number] {
  const { tonic, mode, notes, outside, deciders, place, rival, decidersAt, outsideAt } = scale;
  return {
    tonic,
    mode,
    score: rounded(scale.score, PROBABILITY),
    notes: [...notes],
    outside: [...outside],
    deciders: [...deciders],
    place,
    rival: rival === null ? null : { tonic: rival.tonic, mode: rival.mode },
    decidersAt: decidersAt.map(({ name, numbers }) => ({ name, numbers: [...numbers] })),
    outsideAt: outsideAt.map(({ name, numbers, doubtful, nextTo }) => ({
      name,
      numbers: [...numbers],
      doubtful: [...doubtful],
      nextTo: [...nextTo],
    })),
  };
}
