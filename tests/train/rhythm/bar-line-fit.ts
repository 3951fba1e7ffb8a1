/**
 * `npx tsx tests/train/rhythm/bar-line-fit.ts SONGS.jsonl FOLDER`: fits the weights of src/rhythm/bars/bar-line.ts and
 * prints them, with the share of odd tunes, which nothing was counted or fitted on, whose bar line they find.
 *
 * Conditional logistic regression: of the places where the bar may begin the right one is to be likely. Even tunes are
 * taken, each with a table counted on the half of them it is not in. Metres weigh the same, pop twice. A tenth of the
 * tunes is taken to follow no rule, so that they do not rule the weights.
 */
import { type BarLineParts, barLineParts, habitsOf } from '../../../src/rhythm/bars/bar-line.js';
import { type BarredTune, barLineTable } from './bar-line-table.js';
import { BARS, folkTunes, isEven, popTunes } from './barred-tunes.js';

const LAWLESS = 0.1;
const POP_SHARE = 2;
/** Steps of gradient ascent and their size: by then the weights stand still. */
const STEPS = 1500;
const STEP = 2;
const NAMES = ['intervals', 'motions', 'first', 'last', 'returns'] as const satisfies (keyof BarLineParts)[];

/** The evidence at every place where a tune's bars may begin, the right one first. */
type Choice = readonly (readonly number[])[];

function choicesOf(asked: readonly BarredTune[], counted: readonly BarredTune[], bar: number): Choice[] {
  const habits = habitsOf(barLineTable(counted, bar));
  return asked.map(({ onsets, midi }) =>
    barLineParts(onsets, midi, bar, habits).map((parts) => NAMES.map((name) => parts[name])),
  );
}

function chances(choice: Choice, weights: readonly number[]): number[] {
  const scores = choice.map((parts) => parts.reduce((sum, part, k) => sum + part * weights[k]!, 0));
  const top = Math.max(...scores);
  const odds = scores.map((score) => Math.exp(score - top));
  const total = odds.reduce((sum, value) => sum + value, 0);
  return odds.map((value) => value / total);
}

const [songs, folder] = process.argv.slice(2);
if (songs === undefined || folder === undefined)
  throw new Error('Give SONGS.jsonl and a folder of ABC files.');
const folk = folkTunes(folder);
const kinds = [
  { name: 'pop 4/4', bar: BARS['4/4']!, tunes: popTunes(songs), share: POP_SHARE },
  ...Object.entries(BARS).map(([name, bar]) => ({ name, bar, tunes: folk[name]!, share: 1 })),
].map((kind) => {
  const even = kind.tunes.filter(isEven);
  const odd = kind.tunes.filter((_, i) => !isEven(_, i));
  const [one, other] = [even.filter(isEven), even.filter((_, i) => !isEven(_, i))];
  return {
    ...kind,
    taught: [...choicesOf(one, other, kind.bar), ...choicesOf(other, one, kind.bar)],
    asked: choicesOf(odd, even, kind.bar),
  };
});

const weights = NAMES.map(() => 0.5);
const shares = kinds.reduce((sum, { share }) => sum + share, 0);
for (let step = 0; step < STEPS; step++) {
  const slope = weights.map(() => 0);
  for (const { taught, share } of kinds) {
    for (const choice of taught) {
      const likely = chances(choice, weights);
      const right = (1 - LAWLESS) * likely[0]!;
      const pull = ((right / (right + LAWLESS / choice.length)) * share) / shares / taught.length;
      slope.forEach((_, k) => {
        const mean = choice.reduce((sum, parts, i) => sum + likely[i]! * parts[k]!, 0);
        slope[k]! += pull * (choice[0]![k]! - mean);
      });
    }
  }
  slope.forEach((value, k) => {
    weights[k]! += STEP * value;
  });
}
NAMES.forEach((name, k) => {
  console.log(`${name}: ${weights[k]!.toFixed(2)},`);
});
for (const { name, asked } of kinds) {
  const right = asked.filter((choice) => {
    const likely = chances(choice, weights);
    return likely.indexOf(Math.max(...likely)) === 0;
  });
  console.log(`${name}: ${((100 * right.length) / asked.length).toFixed(1)} % of ${asked.length} odd tunes`);
}
