/**
 * `npx tsx tests/train/hand/main.ts DIR [--out FILE]`: fits the weights of the fingering on all the printed parts of DIR
 * and writes src/hand/finger-weights.ts to FILE. What they score is measured with weights of each fold that never saw the
 * piece (tests/evaluate/fingering).
 *
 * parts.ts      the parts, their folds, the notes that are scored
 * stretches.ts  what the fit reads of a part
 * expect.ts     how often each choice of fingers is expected
 * fit.ts        the fit
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { TABLE_SIZE, TEMPLATE_NAMES, TEMPLATES } from '../../../src/hand/finger-classes.js';
import type { FingerWeights } from '../../../src/hand/merits.js';
import { spanTable } from '../../../src/hand/spans.js';
import { fitFingers, SETTINGS } from './fit.js';
import { readParts } from './parts.js';
import { stretchesOf } from './stretches.js';

const USAGE = 'npx tsx tests/train/hand/main.ts DIR [--out FILE]';

const hundredths = (value: number): string => String(Math.round(100 * value) + 0);

/** One class a line; classes over three fingers take five lines. */
function tableText(values: readonly number[], size: number): string {
  const perLine = Math.min(size, 25);
  const lines: string[] = [];
  for (let at = 0; at < values.length; at += perLine) {
    lines.push(
      values
        .slice(at, at + perLine)
        .map(hundredths)
        .join(' '),
    );
  }
  // Small tables: five classes a line.
  const rows = size === 5 ? lines.flatMap((_, i) => (i % 5 ? [] : [lines.slice(i, i + 5).join(' ')])) : lines;
  return rows.join('\n');
}

function weightsText({ rules, tables }: FingerWeights, parts: number, notes: number): string {
  const points = Object.entries(rules).map(
    ([name, weight]) => `    ${name}: ${Number(weight.toFixed(3)) + 0},`,
  );
  const texts = TEMPLATE_NAMES.map(
    (name) =>
      `    ${name}: tableOf(\`\n${tableText([...(tables[name] as ArrayLike<number> & Iterable<number>)], TABLE_SIZE[TEMPLATES[name].over])}\n\`),`,
  );
  return `import type { FingerWeights } from './merits.js';

/** Weights written as hundredths. */
function tableOf(text: string): Float64Array {
  return Float64Array.from(text.trim().split(/\\s+/), (word) => Number(word) / 100);
}

/**
 * Weights of the fingering, written by tests/train/hand/main.ts: fitted to ${notes} printed fingers of ${parts} right-hand parts of
 * the Mutopia Project's editions (public domain, CC BY or CC BY-SA).
 */
export const FINGER_WEIGHTS: FingerWeights = {
  rules: {
${points.join('\n')}
  },
  tables: {
${texts.join('\n')}
  },
};
`;
}

function run(argv: readonly string[]): void {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: { out: { type: 'string' } },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1) throw new Error(`Give one folder: ${USAGE}`);
  const parts = readParts(root);
  if (parts === null) throw new Error(`${root} has no fingering/right-hand.json.`);
  const spans = spanTable('medium');
  const weights = fitFingers(
    parts.flatMap((part) => stretchesOf(part, spans)),
    SETTINGS,
  );
  const notes = parts.flatMap((part) => part.printed).filter((finger) => finger !== null).length;
  const text = weightsText(weights, parts.length, notes);
  if (values.out === undefined) console.log(text);
  else writeFileSync(values.out, text);
}

try {
  run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
