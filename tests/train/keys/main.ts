/**
 * `npx tsx tests/train/keys/main.ts DIR --folk FOLDER … [--out FILE]`: fits the key model on all the pop melodies of DIR and on
 * the tunes in ABC notation of every FOLDER, and writes src/theory/key-weights.ts to FILE. What the model scores is measured with weights of each fold that never saw the
 * song (tests/evaluate/keys).
 *
 * songs.ts     the songs, their excerpts, their folds
 * folk.ts      the folk tunes, misheard (mishear.ts), from ABC notation (abc-keys.ts)
 * fit.ts       the fit, by linear.ts
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { FEATURE_KINDS } from '../../../src/theory/key-features.js';
import type { KeyWeights, ModeWeights } from '../../../src/theory/key-model.js';
import { readFolkSongs } from './folk.js';
import { readSongs, weightsFrom } from './songs.js';

const USAGE = 'npx tsx tests/train/keys/main.ts DIR --folk FOLDER … [--out FILE]';

const short = (value: number): string => String(Number(value.toFixed(3)) + 0);

function modeText({ bias, degrees }: ModeWeights): string {
  const rows = FEATURE_KINDS.map((kind) => `      ${kind}: [${degrees[kind].map(short).join(', ')}],\n`);
  return `{\n    bias: ${short(bias)},\n    degrees: {\n${rows.join('')}    },\n  }`;
}

function weightsText({ major, minor }: KeyWeights, songs: number, tunes: number): string {
  return `import type { KeyWeights } from './key-model.js';

/**
 * Weights of the key model, fitted by tests/train/keys/main.ts on ${songs} melodies of POP909 (Wang et al., ISMIR 2020, MIT),
 * whole and in excerpts, and on ${tunes} folk tunes of known mode, misheard by chance.
 */
export const KEY_WEIGHTS: KeyWeights = {
  major: ${modeText(major)},
  minor: ${modeText(minor)},
};
`;
}

function run(argv: readonly string[]): void {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: { folk: { type: 'string', multiple: true, default: [] }, out: { type: 'string' } },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1) throw new Error(`Give one folder: ${USAGE}`);
  const songs = readSongs(root);
  if (songs === null) throw new Error(`${root} has no keys/pop909-melodies.jsonl.`);
  const folk = values.folk.flatMap(readFolkSongs);
  const text = weightsText(weightsFrom(songs, folk), songs.length, folk.length);
  if (values.out === undefined) console.log(text);
  else writeFileSync(values.out, text);
}

try {
  run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
