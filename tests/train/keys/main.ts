/**
 * `npx tsx tests/train/keys/main.ts DIR --folk FOLDER … --out FOLDER`: fits the key model on all the pop melodies of DIR and on
 * the tunes in ABC notation of every FOLDER, and what the chords of the pop songs add, and writes key-weights.ts and
 * harmony-weights.ts to the folder of --out, src/theory. What the model scores is measured with weights of each fold that never saw the
 * song (tests/evaluate/keys).
 *
 * songs.ts     the songs, their excerpts, their folds
 * folk.ts      the folk tunes, misheard (mishear.ts), from ABC notation (abc-keys.ts)
 * chords.ts    the chords of the songs as a band might sound
 * harmony.ts   the fit of what they add
 * fit.ts       the fit of both, by linear.ts
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { ModeWeights } from '../../../src/theory/key-model.js';
import { readHarmonies } from './chords.js';
import { readFolkSongs } from './folk.js';
import { harmonyWeightsFrom } from './harmony.js';
import { readSongs, weightsFrom } from './songs.js';

const USAGE = 'npx tsx tests/train/keys/main.ts DIR --folk FOLDER … --out FOLDER';

const short = (value: number): string => String(Number(value.toFixed(2)) + 0);

function modeText({ bias, degrees }: ModeWeights<string>): string {
  const rows = Object.entries(degrees).map(
    ([kind, row]) => `      ${kind}: [${row.map(short).join(', ')}],\n`,
  );
  return `{\n    bias: ${short(bias)},\n    degrees: {\n${rows.join('')}    },\n  }`;
}

type Weights = Readonly<Record<'major' | 'minor', ModeWeights<string>>>;

function fileText(imported: string, doc: string, declared: string, { major, minor }: Weights): string {
  return `${imported}\n\n/**\n${doc}\n */\nexport const ${declared} = {\n  major: ${modeText(major)},\n  minor: ${modeText(minor)},\n};\n`;
}

function run(argv: readonly string[]): void {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: { folk: { type: 'string', multiple: true, default: [] }, out: { type: 'string' } },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1 || values.out === undefined) {
    throw new Error(`Give one folder, and one to write to: ${USAGE}`);
  }
  const songs = readSongs(root);
  if (songs === null) throw new Error(`${root} has no keys/pop909-melodies.jsonl.`);
  const harmonies = readHarmonies(root);
  if (harmonies === null) throw new Error(`${root} has no phrases/pop909-phrases.jsonl.`);
  const folk = values.folk.flatMap(readFolkSongs);
  const weights = weightsFrom(songs, folk);
  const source = `${songs.length} melodies of POP909 (Wang et al., ISMIR 2020, MIT)`;
  writeFileSync(
    join(values.out, 'key-weights.ts'),
    fileText(
      "import type { KeyWeights } from './key-model.js';",
      ` * Weights of the key model, fitted by tests/train/keys/main.ts on ${source},\n * whole and in excerpts, and on ${folk.length} folk tunes of known mode, misheard by chance.`,
      'KEY_WEIGHTS: KeyWeights',
      weights,
    ),
  );
  writeFileSync(
    join(values.out, 'harmony-weights.ts'),
    fileText(
      "import type { HarmonyWeights } from './key-harmony.js';",
      ` * What the harmony adds to the key model, fitted by tests/train/keys/main.ts on the chords of\n * ${source}, as a band might sound.`,
      'HARMONY_WEIGHTS: HarmonyWeights',
      harmonyWeightsFrom(songs, harmonies, weights),
    ),
  );
}

try {
  run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
