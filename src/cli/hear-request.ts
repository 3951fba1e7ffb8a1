/** The options on hearing, read. */
import { checkHearRequest, type HearRequest } from '../pipeline/options.js';
import type { HearingPlan } from './melody-options.js';
import { parsePitchLimit } from './pitch-values.js';

/** @throws UsageError */
export function hearRequestOf({ source, lowest, highest }: HearingPlan): HearRequest {
  return checkHearRequest({
    source: source ?? 'auto',
    lowestMidi: lowest === null ? null : parsePitchLimit('--lowest', lowest),
    highestMidi: highest === null ? null : parsePitchLimit('--highest', highest),
  });
}
