/** How often the printed finger is found, on pieces that the fit never saw. */
import {
  TABLE_SIZE,
  TEMPLATE_NAMES,
  TEMPLATES,
  type TemplateName,
} from '../../../src/hand/finger-classes.js';
import { fingerRightHand } from '../../../src/hand/fingering.js';
import { addLimits } from '../../../src/hand/limits.js';
import { type FingerWeights, type Merits, meritsOf } from '../../../src/hand/merits.js';
import { FINGER_RULES, PAIR_RULES, type RuleName, TURN_RULES } from '../../../src/hand/rules.js';
import { bestFingers } from '../../../src/hand/search.js';
import { spanTable } from '../../../src/hand/spans.js';
import { strokesOf } from '../../../src/hand/strokes.js';
import { fitFingers, RULES_ONLY, SETTINGS } from '../../train/hand/fit.js';
import { type Part, scoredNotes } from '../../train/hand/parts.js';
import { stretchesOf } from '../../train/hand/stretches.js';
import { countHmm, hmmMerits } from './finger-hmm.js';

const spans = spanTable('medium');

/** Learns from some parts and gives fingers, 1..5, to others. */
export type Model = (train: readonly Part[]) => (part: Part) => readonly number[];

function bySearch(meritsFor: (part: Part) => Merits): (part: Part) => readonly number[] {
  return (part) => {
    const strokes = strokesOf(part.notes);
    const merits = meritsFor(part);
    addLimits(merits, strokes, spans);
    return bestFingers(merits, strokes.length).map((f) => f + 1);
  };
}

/** Every rule by its published points, no tables. */
const AS_PUBLISHED: FingerWeights = {
  rules: Object.fromEntries(
    [...FINGER_RULES, ...PAIR_RULES, ...TURN_RULES].map((name) => [name, 1]),
  ) as Record<RuleName, number>,
  tables: Object.fromEntries(
    TEMPLATE_NAMES.map((name) => [
      name,
      new Float64Array(TEMPLATES[name].classes * TABLE_SIZE[TEMPLATES[name].over]),
    ]),
  ) as Record<TemplateName, Float64Array>,
};

const byWeights = (weights: FingerWeights) =>
  bySearch((part) => meritsOf(strokesOf(part.notes), spans, weights));

const stretches = (parts: readonly Part[]) => parts.flatMap((part) => stretchesOf(part, spans));

export const MODELS: Readonly<Record<string, Model>> = {
  'rules of 1997, points as published': () => byWeights(AS_PUBLISHED),
  'the same rules, weights fitted': (train) => byWeights(fitFingers(stretches(train), RULES_ONLY)),
  'hidden Markov model of second order': (train) => {
    const hmm = countHmm(train.map(({ notes, printed }) => ({ strokes: strokesOf(notes), printed })));
    return bySearch((part) => hmmMerits(strokesOf(part.notes), hmm));
  },
  'rules and tables fitted, as the program fingers': (train) => {
    const weights = fitFingers(stretches(train), SETTINGS);
    return (part) => fingerRightHand(part.notes, { hand: 'medium', weights });
  },
};

export interface Hits {
  readonly hits: number;
  readonly notes: number;
}

export function hitsOf(part: Part, fingers: readonly number[]): Hits {
  const scored = scoredNotes(part.printed);
  return { hits: scored.filter((i) => part.printed[i] === fingers[i]).length, notes: scored.length };
}

/** Hits of each part, learned from the parts of other groups. */
export function crossHits(
  parts: readonly Part[],
  groups: readonly (number | string)[],
  model: Model,
): Hits[] {
  const hits: Hits[] = new Array(parts.length);
  for (const group of new Set(groups)) {
    const finger = model(parts.filter((_, i) => groups[i] !== group));
    parts.forEach((part, i) => {
      if (groups[i] === group) hits[i] = hitsOf(part, finger(part));
    });
  }
  return hits;
}

export function rateOf(hits: readonly Hits[]): number {
  return hits.reduce((sum, h) => sum + h.hits, 0) / hits.reduce((sum, h) => sum + h.notes, 0);
}
