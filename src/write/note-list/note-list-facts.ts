import type { HeardAs } from '../../pitch/types.js';
import { BAR_BEATS, TEMPO_BPM } from '../limits.js';
import { plainText } from '../plain-text.js';
import { parseNumber, type Where, wrongField } from './note-list-field.js';

/** Facts about the whole recording that `#` lines state: key → range and unit, and the step of whole numbers. */
const FACTS = {
  seconds: { least: 0, most: 1e6, unit: 'seconds' },
  'tuning-cents': { least: -50, most: 50, unit: 'cents above A4 = 440 Hz' },
  'tempo-bpm': { ...TEMPO_BPM, unit: 'beats a minute' },
  'beats-per-bar': { ...BAR_BEATS, step: 1, unit: 'beats' },
  'beat-unit': { least: 4, most: 8, step: 4, unit: '4, a quarter, or 8, an eighth' },
  'first-downbeat': { least: -1e6, most: 1e6, unit: 'seconds' },
} as const;

export type Fact = keyof typeof FACTS;

export function isFactKey(key: string): key is Fact {
  return Object.hasOwn(FACTS, key);
}

/** The number after `# key`. Throws InputError where it is none or outside the key's range. */
export function readFact(key: Fact, text: string, where: Where): number {
  const { least, most, unit, step } = { step: null, ...FACTS[key] };
  const value = parseNumber(text);
  const whole = step === null ? '' : 'whole ';
  if (value === null || value < least || value > most || (step !== null && value % step !== 0)) {
    throw wrongField(where, `# ${key}`, text, `a ${whole}number from ${least} to ${most} (${unit})`);
  }
  return value;
}

/** What a `# source` line says; null for anything else after these words, which is a comment. */
export function readSource(line: string): HeardAs | null {
  const [, source, why] = /^"?#\s*source\s+(solo|mix)(?:\s+\((.*)\))?"?\s*$/.exec(line) ?? [];
  return source === undefined
    ? null
    : { source: source as HeardAs['source'], why: why ? plainText(why) : null };
}
