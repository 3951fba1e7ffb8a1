/** How well fingers suit a melody: the fitted rules and tables, summed to a merit for every choice of fingers. */
import { type Over, TABLE_SIZE, TEMPLATE_NAMES, TEMPLATES, type TemplateName } from './finger-classes.js';
import { isBlack } from './keyboard.js';
import {
  FINGER_RULES,
  fingerPoints,
  PAIR_RULES,
  pairPoints,
  type RuleName,
  TURN_RULES,
  turnPoints,
} from './rules.js';
import type { SpanTable } from './spans.js';
import type { Stroke } from './types.js';

/**
 * Share of what two and three fingers have together that is left across a rest (a later, thirteenth rule lowers the
 * costs of spans; the factor is this project's).
 */
const REST_SHARE = 0.25;

/** The share for a table or a rule over this note's finger and those before. */
export function shareOf(strokes: readonly Stroke[], i: number, over: Over): number {
  if (over === 'own') return 1;
  return strokes[i]!.afterRest || (over !== 'last' && strokes[i - 1]?.afterRest) ? REST_SHARE : 1;
}

export interface FingerWeights {
  /** Cost of a point, by the rule; none below 0. */
  readonly rules: Readonly<Record<RuleName, number>>;
  /** Merit of fingers, by template: class after class, each TABLE_SIZE long. */
  readonly tables: Readonly<Record<TemplateName, ArrayLike<number>>>;
}

/**
 * Merits of the fingers of every note (log-odds, up to a constant): of its own finger `own[5·i + f]`; with the
 * last one's, `last[25·i + 5·f₁ + f]`; with the last two, `both[125·i + 25·f₁ + 5·f₂ + f]`. Fingers from 0.
 */
export interface Merits {
  readonly own: Float64Array;
  readonly last: Float64Array;
  readonly both: Float64Array;
}

/** Points of every rule for every choice of fingers of note `i`, as `Merits` are laid out, rule after rule. */
export interface RulePoints {
  readonly own: Float32Array;
  readonly last: Float32Array;
  readonly both: Float32Array;
}

export function rulePoints(strokes: readonly Stroke[], i: number, spans: SpanTable): RulePoints {
  return {
    own: ownPoints(strokes, i),
    last: lastPoints(strokes, i, spans),
    both: bothPoints(strokes, i, spans),
  };
}

function ownPoints(strokes: readonly Stroke[], i: number): Float32Array {
  const before = strokes[i - 1]?.midi ?? null;
  const after = strokes[i + 1]?.midi ?? null;
  return laidOut(5, FINGER_RULES.length, 1, (f) => fingerPoints(f + 1, strokes[i]!.midi, before, after));
}

function lastPoints(strokes: readonly Stroke[], i: number, spans: SpanTable): Float32Array {
  const [before, stroke] = [strokes[i - 1], strokes[i]!];
  if (before === undefined || before.midi === stroke.midi) return new Float32Array(25 * PAIR_RULES.length);
  return laidOut(25, PAIR_RULES.length, shareOf(strokes, i, 'last'), (at) =>
    pairPoints(spans, Math.floor(at / 5) + 1, before.midi, (at % 5) + 1, stroke.midi),
  );
}

function bothPoints(strokes: readonly Stroke[], i: number, spans: SpanTable): Float32Array {
  const [first, before, stroke] = [strokes[i - 2], strokes[i - 1], strokes[i]!];
  if (!first || !before || first.midi === before.midi || before.midi === stroke.midi) {
    return new Float32Array(125 * TURN_RULES.length);
  }
  return laidOut(125, TURN_RULES.length, shareOf(strokes, i, 'both'), (at) => {
    const [f1, f2, f3] = [Math.floor(at / 25) + 1, (Math.floor(at / 5) % 5) + 1, (at % 5) + 1];
    return turnPoints(spans, f1, first.midi, f2, before.midi, f3, stroke.midi);
  });
}

function laidOut(
  size: number,
  rules: number,
  share: number,
  pointsAt: (at: number) => readonly number[],
): Float32Array {
  const values = new Float32Array(size * rules);
  for (let at = 0; at < size; at++) {
    const points = pointsAt(at);
    for (let rule = 0; rule < rules; rule++) values[size * rule + at] = share * points[rule]!;
  }
  return values;
}

/**
 * What the rules say of keys and steps that were met before. They are the same few again and again, in a melody and in
 * its transpositions: 1,119 in 200 songs and their twelve keys, 0.6 MB.
 */
const KNOWN = new WeakMap<FingerWeights, Map<SpanTable, Map<string, Float64Array>>>();

function knownFor(weights: FingerWeights, spans: SpanTable): Map<string, Float64Array> {
  const bySpans = KNOWN.get(weights) ?? new Map<SpanTable, Map<string, Float64Array>>();
  KNOWN.set(weights, bySpans);
  const known = bySpans.get(spans) ?? new Map<string, Float64Array>();
  bySpans.set(spans, known);
  return known;
}

function weighted(names: readonly RuleName[], points: Float32Array, weights: FingerWeights): Float64Array {
  const size = points.length / names.length;
  const merits = new Float64Array(size);
  names.forEach((name, rule) => {
    const weight = weights.rules[name];
    for (let at = 0; at < size; at++) merits[at]! -= weight * points[size * rule + at]!;
  });
  return merits;
}

/** The merits of every choice of fingers. */
export function meritsOf(strokes: readonly Stroke[], spans: SpanTable, weights: FingerWeights): Merits {
  const count = strokes.length;
  const merits: Merits = {
    own: new Float64Array(5 * count),
    last: new Float64Array(25 * count),
    both: new Float64Array(125 * count),
  };
  const known = knownFor(weights, spans);
  for (let i = 0; i < count; i++) {
    const [first, before, here, after] = [strokes[i - 2], strokes[i - 1], strokes[i]!, strokes[i + 1]];
    const rest = here.afterRest ? 'r' : '';
    const ownKey = `${colour(before)}${colour(here)}${colour(after)}`;
    const own = known.get(ownKey) ?? weighted(FINGER_RULES, ownPoints(strokes, i), weights);
    known.set(ownKey, own);
    merits.own.set(own, 5 * i);
    if (before === undefined) continue;
    const step = here.midi - before.midi;
    const lastKey = `${before.midi % 12} ${step}${rest}`;
    const last = known.get(lastKey) ?? weighted(PAIR_RULES, lastPoints(strokes, i, spans), weights);
    known.set(lastKey, last);
    merits.last.set(last, 25 * i);
    if (first === undefined) continue;
    const bothKey = `${before.midi - first.midi}, ${step}${rest || before.afterRest ? 'r' : ''}`;
    const both = known.get(bothKey) ?? weighted(TURN_RULES, bothPoints(strokes, i, spans), weights);
    known.set(bothKey, both);
    merits.both.set(both, 125 * i);
  }
  for (const name of TEMPLATE_NAMES) addTable(strokes, name, weights, merits);
  return merits;
}

const colour = (stroke: Stroke | undefined): string =>
  stroke === undefined ? '-' : isBlack(stroke.midi) ? 'b' : 'w';

/** Notes before `i` that a template needs. */
export const NEEDS = { own: 0, last: 1, skip: 2, both: 2 } as const;

function addTable(
  strokes: readonly Stroke[],
  name: TemplateName,
  weights: FingerWeights,
  merits: Merits,
): void {
  const { over, of } = TEMPLATES[name];
  const size = TABLE_SIZE[over];
  const table = weights.tables[name];
  const into = over === 'own' ? merits.own : over === 'last' ? merits.last : merits.both;
  for (let i = NEEDS[over]; i < strokes.length; i++) {
    const from = size * of(strokes, i);
    const share = shareOf(strokes, i, over);
    if (over === 'skip') {
      for (let at = 0; at < 125; at++) into[125 * i + at]! += share * table[from + SKIPPED[at]!]!;
    } else {
      for (let at = 0; at < size; at++) into[size * i + at]! += share * table[from + at]!;
    }
  }
}

/** Place in a table over the first and last of three fingers. */
const SKIPPED = Uint8Array.from({ length: 125 }, (_, at) => 5 * Math.floor(at / 25) + (at % 5));
