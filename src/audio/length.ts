/** How long a recording may be. */
import { InputError } from '../errors.js';
import type { OpenAudio } from './open-audio.js';

/** Longest part of a recording that is decoded at once, in seconds: three hours, 690 MB of samples. */
export const LONGEST_SECONDS = 3 * 3600;

/**
 * Refuses what is too long before it is decoded, where the container says how long it is. What the bytes cannot hold is
 * not believed.
 * @throws InputError
 */
export function checkClaim(
  { claimedSeconds, heldSeconds }: OpenAudio,
  { from, to }: { readonly from: number; readonly to: number },
  label: string,
): void {
  const seconds = Math.min(claimedSeconds ?? 0, heldSeconds ?? Number.POSITIVE_INFINITY);
  if (Math.min(seconds, to) - from > LONGEST_SECONDS) {
    throw tooLong(`${label} lasts ${(seconds / 3600).toFixed(1)} hours`);
  }
}

/**
 * Ends the decoding of what says nothing of its length, or too little: a few kilobytes may hold days of silence.
 * @throws InputError
 */
export function checkKept(seconds: number, label: string): void {
  if (seconds > LONGEST_SECONDS) throw tooLong(`${label} goes on after ${LONGEST_SECONDS / 3600} hours`);
}

function tooLong(what: string): InputError {
  return new InputError(
    `${what}, and no more than ${LONGEST_SECONDS / 3600} are heard at once: choose a part with --from and --to.`,
  );
}
