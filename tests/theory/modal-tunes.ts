import { rankScales } from '../../src/theory/scales.js';
import { nameParts } from '../../src/theory/tonal-tables.js';

export const pitchClassNamed = (name: string): number => nameParts(name)!.pitchClass;

/** The ranking of lines on a tonic; every note of one degree as sure as said, the others sure. */
export function rankedAt(
  lines: readonly (readonly number[])[],
  tonic: number,
  doubtful: number,
  confidence: number,
) {
  return rankScales(
    lines.flatMap((line) =>
      line.map((degree, i) => ({
        midi: tonic + degree,
        weight: i === line.length - 1 ? 2 : 1,
        lineEnd: i === line.length - 1,
        confidence: degree === doubtful ? confidence : 1,
      })),
    ),
  );
}
