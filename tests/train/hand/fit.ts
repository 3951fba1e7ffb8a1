/**
 * Fits the weights of the fingering to printed fingers: the likelihood of what is printed, summed over the fingers of
 * notes without one, is made greatest by stochastic gradient (AdaGrad: Duchi, Hazan & Singer 2011), weights drawn to 0.
 */
import {
  TABLE_SIZE,
  TEMPLATE_NAMES,
  TEMPLATES,
  type TemplateName,
} from '../../../src/hand/finger-classes.js';
import type { FingerWeights, Merits } from '../../../src/hand/merits.js';
import { FINGER_RULES, PAIR_RULES, type RuleName, TURN_RULES } from '../../../src/hand/rules.js';
import { type Expected, expectedOf } from './expect.js';
import type { Stretch } from './stretches.js';

export interface FitSettings {
  /** Pull of the tables towards 0, in squared weight. */
  readonly pull: number;
  readonly rounds: number;
  /** Only the rules are fitted, the tables stay 0. */
  readonly rulesOnly?: boolean;
}

/**
 * Chosen on the pieces of even number, by folds and by books that the fit had not seen: of the pulls 3, 8, 20, 30, 50
 * and 100 the one with the best sum of both match rates (tests/evaluate/fingering reports the odd pieces by themselves).
 */
export const SETTINGS: FitSettings = { pull: 30, rounds: 8 };
/** The same for the rules alone. */
export const RULES_ONLY: FitSettings = { ...SETTINGS, rulesOnly: true };

const RATE = 0.1;
/** Pull of the rules towards 0: next to none, so that they take what they can and the tables correct them. */
const RULE_PULL = 0.01;
const FIRST_RULE_WEIGHT = 0.1;
const RULES: readonly RuleName[] = [...FINGER_RULES, ...PAIR_RULES, ...TURN_RULES];

interface Vector {
  readonly rules: Float64Array;
  readonly tables: Readonly<Record<TemplateName, Float64Array>>;
}

function zeros(): Vector {
  return {
    rules: new Float64Array(RULES.length),
    tables: Object.fromEntries(
      TEMPLATE_NAMES.map((name) => [
        name,
        new Float64Array(TEMPLATES[name].classes * TABLE_SIZE[TEMPLATES[name].over]),
      ]),
    ) as Record<TemplateName, Float64Array>,
  };
}

/** The points of a note, with their place in `RULES`. */
function ruleGroups(points: Stretch['points'][number]) {
  return [
    { from: 0, count: FINGER_RULES.length, size: 5, values: points.own, part: 'own' as const },
    {
      from: FINGER_RULES.length,
      count: PAIR_RULES.length,
      size: 25,
      values: points.last,
      part: 'last' as const,
    },
    {
      from: FINGER_RULES.length + PAIR_RULES.length,
      count: TURN_RULES.length,
      size: 125,
      values: points.both,
      part: 'both' as const,
    },
  ];
}

function meritsOf(stretch: Stretch, weights: Vector): Merits {
  const { count } = stretch;
  const merits: Merits = {
    own: new Float64Array(5 * count),
    last: new Float64Array(25 * count),
    both: new Float64Array(125 * count),
  };
  for (let i = 0; i < count; i++) {
    for (const { from, count: rules, size, values, part } of ruleGroups(stretch.points[i]!)) {
      for (let r = 0; r < rules; r++) {
        const weight = weights.rules[from + r]!;
        if (weight !== 0)
          for (let at = 0; at < size; at++) merits[part][size * i + at]! -= weight * values[size * r + at]!;
      }
    }
    for (const name of TEMPLATE_NAMES) {
      const kind = stretch.classes[name][i]!;
      if (kind < 0) continue;
      const { over } = TEMPLATES[name];
      const share = stretch.shares[name][i]!;
      const size = TABLE_SIZE[over];
      const table = weights.tables[name];
      if (over === 'skip') {
        for (let at = 0; at < 125; at++)
          merits.both[125 * i + at]! += share * table[25 * kind + 5 * Math.floor(at / 25) + (at % 5)]!;
      } else {
        for (let at = 0; at < size; at++) merits[over][size * i + at]! += share * table[size * kind + at]!;
      }
    }
  }
  return merits;
}

/** Adds what is expected with the printed fingers, less what is expected without them. */
function addGradient(stretch: Stretch, held: Expected, free: Expected, into: Vector): void {
  const { count } = stretch;
  const differ = { own: new Float64Array(5), last: new Float64Array(25), both: new Float64Array(125) };
  const skip = new Float64Array(25);
  for (let i = 0; i < count; i++) {
    for (const part of ['own', 'last', 'both'] as const) {
      const size = differ[part].length;
      for (let at = 0; at < size; at++)
        differ[part][at] = held[part][size * i + at]! - free[part][size * i + at]!;
    }
    skip.fill(0);
    for (let at = 0; at < 125; at++) skip[5 * Math.floor(at / 25) + (at % 5)]! += differ.both[at]!;
    for (const { from, count: rules, size, values, part } of ruleGroups(stretch.points[i]!)) {
      for (let r = 0; r < rules; r++) {
        let sum = 0;
        for (let at = 0; at < size; at++) sum += differ[part][at]! * values[size * r + at]!;
        into.rules[from + r]! -= sum;
      }
    }
    for (const name of TEMPLATE_NAMES) {
      const kind = stretch.classes[name][i]!;
      if (kind < 0) continue;
      const { over } = TEMPLATES[name];
      const share = stretch.shares[name][i]!;
      const from = over === 'skip' ? skip : differ[over];
      const table = into.tables[name];
      for (let at = 0; at < from.length; at++) table[from.length * kind + at]! += share * from[at]!;
    }
  }
}

/** Pseudo-random order, the same every time (a linear congruential generator, Knuth's MMIX constants cut to 32 bits). */
function shuffled<T>(items: readonly T[], seed: number): T[] {
  const out = [...items];
  let state = seed >>> 0;
  for (let i = out.length - 1; i > 0; i--) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const j = Math.floor((state / 2 ** 32) * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}

/** Stretches that share one step. */
const BATCH = 8;

export function fitFingers(stretches: readonly Stretch[], settings: FitSettings): FingerWeights {
  const weights = zeros();
  weights.rules.fill(FIRST_RULE_WEIGHT);
  const squares = zeros();
  const mean = zeros();
  const batches = Math.ceil(stretches.length / BATCH);
  let taken = 0;
  for (let round = 0; round < settings.rounds; round++) {
    const order = shuffled(stretches, round + 1);
    for (let b = 0; b < batches; b++) {
      const step = zeros();
      for (const stretch of order.slice(b * BATCH, (b + 1) * BATCH)) {
        const merits = meritsOf(stretch, weights);
        addGradient(
          stretch,
          expectedOf(merits, stretch.count, stretch.fingers),
          expectedOf(merits, stretch.count, null),
          step,
        );
      }
      move(weights.rules, step.rules, squares.rules, RULE_PULL / batches);
      for (let r = 0; r < RULES.length; r++) weights.rules[r] = Math.max(0, weights.rules[r]!);
      if (settings.rulesOnly) continue;
      for (const name of TEMPLATE_NAMES) {
        move(weights.tables[name], step.tables[name], squares.tables[name], settings.pull / batches);
      }
    }
    if (round < settings.rounds / 2) continue;
    taken++;
    for (let r = 0; r < RULES.length; r++) mean.rules[r]! += weights.rules[r]!;
    for (const name of TEMPLATE_NAMES) {
      for (let k = 0; k < weights.tables[name].length; k++) mean.tables[name][k]! += weights.tables[name][k]!;
    }
  }
  return {
    rules: Object.fromEntries(RULES.map((name, r) => [name, mean.rules[r]! / taken])) as Record<
      RuleName,
      number
    >,
    tables: Object.fromEntries(
      TEMPLATE_NAMES.map((name) => [name, mean.tables[name].map((w) => w / taken)]),
    ) as Record<TemplateName, Float64Array>,
  };
}

function move(weights: Float64Array, step: Float64Array, squares: Float64Array, pull: number): void {
  for (let k = 0; k < weights.length; k++) {
    const slope = step[k]! - pull * weights[k]!;
    if (slope === 0) continue;
    squares[k]! += slope * slope;
    weights[k]! += (RATE * slope) / (Math.sqrt(squares[k]!) + 1e-6);
  }
}
