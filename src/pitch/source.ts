/** One pitch at a time, or a voice among others: which tracker a recording is for. */
import type { Recording } from '../audio/types.js';
import { measureSource, type SourceMeasures } from './source-measures.js';
import { SOURCE_WEIGHTS } from './source-weights.js';
import type { Source } from './types.js';

export interface SourceDecision {
  readonly source: Source;
  /** Probability 0..1 that it is a mix. */
  readonly mixProbability: number;
  /** For people, without a capital and a full stop: `one pitch at a time explains the sound`. */
  readonly why: string;
}

/** The measures as the model takes them. */
export const SOURCE_INPUTS = ['unexplained', 'otherTones', 'below', 'pauseDb'] as const;
export type SourceInput = (typeof SOURCE_INPUTS)[number];

/** One input of the logistic model: it adds weight·(input − middle) to the logarithm of the odds of a mix. */
export interface InputWeight {
  readonly weight: number;
  /** Half way between the mean of solos and the mean of mixes. */
  readonly middle: number;
}

export interface SourceWeights {
  readonly bias: number;
  readonly inputs: Readonly<Record<SourceInput, InputWeight>>;
}

/** What each input says where it speaks for a solo, and where for a mix. */
const WORDS: Readonly<Record<SourceInput, Readonly<Record<Source, string>>>> = {
  unexplained: {
    solo: 'one pitch at a time explains the sound',
    mix: 'one pitch at a time does not explain the sound',
  },
  otherTones: { solo: 'no other tones sound beside the melody', mix: 'other tones sound beside the melody' },
  below: { solo: 'nothing sounds below the melody', mix: 'a bass sounds below the melody' },
  pauseDb: { solo: 'the sound stops between lines', mix: 'the sound does not stop between lines' },
};

/** Shares this small are nothing; the logarithm of a share needs a floor. */
const LEAST_UNEXPLAINED = 0.02;
const LEAST_OTHER_TONES = 0.003;
const LEAST_BELOW = 0.003;
/** More than this says no more: in noise alone nothing is explained. */
const MOST_UNEXPLAINED = 0.4;

/** Shares as logarithms, since they range over orders of magnitude; the level in units of 10 dB. */
export function sourceInputs(measures: SourceMeasures): Record<SourceInput, number> {
  return {
    unexplained: Math.log(LEAST_UNEXPLAINED + Math.min(measures.unexplained, MOST_UNEXPLAINED)),
    otherTones: Math.log(LEAST_OTHER_TONES + measures.otherTones),
    below: Math.log(LEAST_BELOW + measures.below),
    pauseDb: measures.pauseDb / 10,
  };
}

/**
 * Decides whether a recording is a solo (a voice, whistling or one instrument alone, in whatever noise) or a mix (a
 * voice with anything that plays other notes), by a logistic model of four measures of at most 20 s of it; the reason
 * is the measure that speaks loudest for what was decided. Takes at most as long as the solo tracker takes for 20 s.
 *
 * Both channels are measured as their mean. Their difference is not asked: noise in two microphones, a room, and the
 * wide sound of one piano make it as large as a band does.
 */
export function decideSource(recording: Recording, weights: SourceWeights = SOURCE_WEIGHTS): SourceDecision {
  const measures = measureSource(recording.samples, recording.sampleRate);
  if (measures === null) return { source: 'solo', mixProbability: 0, why: 'there is hardly any sound' };
  const inputs = sourceInputs(measures);
  const says = SOURCE_INPUTS.map((name) => {
    const { weight, middle } = weights.inputs[name];
    return { name, odds: weight * (inputs[name] - middle) };
  });
  const logOdds = says.reduce((sum, { odds }) => sum + odds, weights.bias);
  const source = logOdds > 0 ? 'mix' : 'solo';
  const loudest = says.reduce((a, b) => ((source === 'mix' ? b.odds > a.odds : b.odds < a.odds) ? b : a));
  return { source, mixProbability: 1 / (1 + Math.exp(-logOdds)), why: WORDS[loudest.name][source] };
}
