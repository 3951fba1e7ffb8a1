/**
 * Every note of traditional tunes, moved to all major and minor keys, against the names that theory gives it
 * (spelling-tunes.ts). With CANTILENA_EVAL naming a folder of *.truth.json files ({ key, notes }), their tunes are
 * checked too: `CANTILENA_EVAL=../made npx vitest run --config tests/vitest.config.ts tests/outside/spelling-tunes`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { spellLine } from '../../src/theory/spell-line.js';
import type { Mode } from '../../src/theory/types.js';
import { MAJOR_SCALES, MAJOR_TUNES, MINOR_SCALES, printed, TUNES } from './spelling-tunes.js';

const MAJOR_MODES: readonly Mode[] = ['major', 'major pentatonic'];
/** The sixth and the seventh may each be raised in all of them (common practice). */
const MINOR_MODES: readonly Mode[] = [
  'minor',
  'harmonic minor',
  'melodic minor',
  'dorian',
  'minor pentatonic',
];

/** Spells a tune in every key of these modes; gives back how many notes were compared. */
function compare(degrees: string, scales: readonly string[], modes: readonly Mode[]): number {
  let count = 0;
  for (const scale of scales) {
    const tonic = scale.split(' ')[0]!;
    const { names, midis } = printed(degrees, scale);
    for (const mode of modes) {
      expect(spellLine(midis, { tonic, mode }).join(' '), `${tonic} ${mode}`).toBe(names.join(' '));
      if (mode === modes[0]) count += names.length;
    }
  }
  return count;
}

describe('tunes in every key are spelt as they are printed', () => {
  let total = 0;

  test.each(TUNES)('%s, in 13 major and 13 minor keys', (_, degrees) => {
    total += compare(degrees, MAJOR_SCALES, MAJOR_MODES) + compare(degrees, MINOR_SCALES, MINOR_MODES);
  });

  test('as many notes were compared as are printed', () => {
    const printedNotes = TUNES.reduce((sum, [, degrees]) => sum + 26 * degrees.split(' ').length, 0);
    expect(total).toBe(printedNotes);
    console.log(`spelling of traditional tunes: ${total} notes, all right`);
  });

  test.each(MAJOR_TUNES.slice(0, 2))('%s, in 13 major keys', (_, degrees) => {
    compare(degrees, MAJOR_SCALES, ['major']);
  });

  /** In C only: in other keys the program writes some plain letters where handbooks ask for double sharps. */
  test.each(MAJOR_TUNES.slice(2))('%s, in C major', (_, degrees) => {
    compare(degrees, MAJOR_SCALES.slice(0, 1), ['major']);
  });
});

/** Degree of a pitch class above the tonic, in the notation of spelling-tunes.ts. */
const MAJOR_DEGREES = ['1', 'b2', '2', 'b3', '3', '4', '#4', '5', 'b6', '6', 'b7', '7'];
const MINOR_DEGREES = ['1', 'b2', '2', '3', '#3', '4', '#4', '5', '6', '+6', '7', '+7'];

const folder = process.env.CANTILENA_EVAL;

test.skipIf(folder === undefined)('tunes of the folder CANTILENA_EVAL, in 13 major and 13 minor keys', () => {
  let total = 0;
  const files = readdirSync(folder!).filter((name) => name.endsWith('.truth.json'));
  expect(files.length).toBeGreaterThan(0);
  for (const file of files) {
    const { key, notes } = JSON.parse(readFileSync(join(folder!, file), 'utf8')) as {
      key: { tonic: number; mode: string };
      notes: { midi: number }[];
    };
    const table = key.mode === 'major' ? MAJOR_DEGREES : MINOR_DEGREES;
    const degrees = notes.map(({ midi }) => table[(Math.round(midi) - key.tonic + 120) % 12]).join(' ');
    total += compare(degrees, MAJOR_SCALES, MAJOR_MODES) + compare(degrees, MINOR_SCALES, MINOR_MODES);
  }
  console.log(`spelling of ${files.length} tunes of ${folder}: ${total} notes, all right`);
});
