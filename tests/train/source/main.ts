/**
 * `npx tsx tests/train/source/main.ts DIR [--voices DIR --bands DIR] [--seed N] [--out FILE]`: fits the decision between
 * solo and mix on half a of the recordings, prints how it does on half b, and writes src/pitch/source-weights.ts to FILE.
 *
 * DIR is laid out as for `npm run evaluate`; of it `singing/ssvd` and `mir1k` are read (halved by recording and by
 * singer), never what is kept for measuring. Own recordings are computed; rendered voices and bands are optional.
 * Every recording is taken as it is and once more in a room (room.ts).
 *
 * recordings.ts  what there is
 * room.ts        echo, noise, hum, knocks
 * logistic.ts    the fit
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { ANALYSIS_RATE } from '../../../src/audio/types.js';
import { SOURCE_INPUTS, type SourceWeights, sourceInputs } from '../../../src/pitch/source.js';
import { measureSource } from '../../../src/pitch/source-measures.js';
import type { Source } from '../../../src/pitch/types.js';
import { takenTable } from '../../evaluate/taken.js';
import { whole } from '../whole.js';
import { fitLogistic } from './logistic.js';
import { type Known, karaoke, noiseAlone, own, rendered, sightSinging } from './recordings.js';
import { inRoom } from './room.js';

const USAGE = 'npx tsx tests/train/source/main.ts DIR [--voices DIR --bands DIR] [--seed N] [--out FILE]';
/** Pull of the weights towards 0. */
const PULL = 0.01;

type Measured = Omit<Known, 'samples'> & { readonly inputs: readonly number[] };

function measured({ samples, ...known }: Known): Measured[] {
  const measures = measureSource(samples, ANALYSIS_RATE);
  if (measures === null) return [];
  const inputs = sourceInputs(measures);
  return [{ ...known, inputs: SOURCE_INPUTS.map((name) => inputs[name]) }];
}

function middlesOf(rows: readonly Measured[]): number[] {
  const mean = (source: string, k: number) => {
    const values = rows.filter((row) => row.source === source).map((row) => row.inputs[k]);
    return values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  return SOURCE_INPUTS.map((_, k) => (mean('solo', k) + mean('mix', k)) / 2);
}

/** Solos and mixes count half each, and inside each every group alike, however many recordings it has. */
function sharesOf(rows: readonly Measured[]): number[] {
  return rows.map(({ source, group }) => {
    const groups = new Set(rows.filter((row) => row.source === source).map((row) => row.group));
    return 0.5 / groups.size / rows.filter((row) => row.group === group).length;
  });
}

function weightsFor(rows: readonly Measured[]): SourceWeights {
  const middles = middlesOf(rows);
  const centred = rows.map((row) => row.inputs.map((value, k) => value - middles[k]));
  const { weights, bias } = fitLogistic(
    centred,
    rows.map((row) => (row.source === 'mix' ? 1 : 0)),
    sharesOf(rows),
    PULL,
  );
  const inputs = SOURCE_INPUTS.map((name, k) => [name, { weight: weights[k], middle: middles[k] }]);
  return { bias, inputs: Object.fromEntries(inputs) as SourceWeights['inputs'] };
}

function takenFor({ inputs }: Measured, weights: SourceWeights): Source {
  const odds = SOURCE_INPUTS.reduce((sum, name, k) => {
    const { weight, middle } = weights.inputs[name];
    return sum + weight * (inputs[k] - middle);
  }, weights.bias);
  return odds > 0 ? 'mix' : 'solo';
}

function weightsText({ bias, inputs }: SourceWeights): string {
  const short = (value: number) => String(Number(value.toFixed(4)));
  const lines = SOURCE_INPUTS.map((name) => {
    const { weight, middle } = inputs[name];
    return `    ${name}: { weight: ${short(weight)}, middle: ${short(middle)} },\n`;
  });
  return `import type { SourceWeights } from './source.js';

/** Weights of the decision between solo and mix, fitted by tests/train/source/main.ts. */
export const SOURCE_WEIGHTS: SourceWeights = {
  bias: ${short(bias)},
  inputs: {
${lines.join('')}  },
};
`;
}

async function run(argv: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      voices: { type: 'string' },
      bands: { type: 'string' },
      seed: { type: 'string', default: '1' },
      out: { type: 'string' },
    },
  });
  const [root] = positionals;
  const { voices, bands } = values;
  if (root === undefined || positionals.length > 1 || (voices === undefined) !== (bands === undefined)) {
    throw new Error(`Give one folder, and --voices and --bands together or not at all: ${USAGE}`);
  }
  const random = seededRandom(whole('--seed', values.seed, 0, 2 ** 31 - 1));
  const parts = [sightSinging(root), karaoke(root), noiseAlone(random), own(random)];
  if (voices !== undefined && bands !== undefined) parts.push(rendered(voices, bands, random));
  const rows: Measured[] = [];
  for (const part of parts) {
    for await (const known of part) {
      rows.push(...measured(known));
      rows.push(...measured({ ...known, samples: inRoom(known.samples, ANALYSIS_RATE, random) }));
    }
    console.error(`${rows.length} recordings measured`);
  }
  const weights = weightsFor(rows.filter((row) => row.half === 'a'));
  for (const half of ['a', 'b'] as const) {
    const inside = rows.filter((row) => row.half === half);
    console.log(`\nhalf ${half}${half === 'a' ? ', fitted on' : ', kept apart'}`);
    console.log(takenTable(inside.map((row) => ({ ...row, taken: takenFor(row, weights) }))));
    for (const row of inside.filter((each) => takenFor(each, weights) !== each.source)) {
      console.log(
        `wrong: ${row.group} ${row.name}: ${row.inputs.map((value) => value.toFixed(2)).join(' ')}`,
      );
    }
  }
  if (values.out !== undefined) writeFileSync(values.out, weightsText(weights));
}

try {
  await run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
