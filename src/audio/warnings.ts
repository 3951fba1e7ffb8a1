/** The sentences for people about a recording that was read with something amiss. */
import type { Downmix, MixFacts } from './mix.js';

/** Seconds that may be missing before a file is called damaged: decoders differ by a frame or two of 26 ms. */
const MISSING_SECONDS = 0.1;
/** Peak beyond which sound was surely damaged: coding noise makes loud music exceed full scale by little. */
const DAMAGED_PEAK = 2;

export interface ReadFacts {
  /** Length by the header, or null when unknown or not read to the end. */
  readonly claimedSeconds: number | null;
  /** True where the container's own checks failed. */
  readonly damaged: boolean;
  readonly readSeconds: number;
  /** Seconds of silence that stand for what could not be decoded. */
  readonly lostSeconds: number;
  readonly downmix: Downmix;
  readonly mixed: MixFacts;
}

export function createWarnings({
  claimedSeconds,
  damaged,
  readSeconds,
  lostSeconds,
  downmix,
  mixed,
}: ReadFacts): string[] {
  const warnings: string[] = [];
  const whole = Math.max(claimedSeconds ?? 0, readSeconds + lostSeconds);
  if (whole - readSeconds > MISSING_SECONDS || lostSeconds > 0) {
    warnings.push(`damaged: ${readSeconds.toFixed(1)} of ${whole.toFixed(1)} s could be read.`);
  } else if (damaged) {
    warnings.push(`damaged: parts of its ${readSeconds.toFixed(1)} s may be missing or wrong.`);
  }
  if (mixed.nonFinite > 0) {
    warnings.push(`${mixed.nonFinite} samples were not finite numbers and were taken as silence.`);
  }
  if (downmix.channel !== null) {
    warnings.push(
      `its channels cancel each other, so channel ${downmix.channel + 1}, the louder, was taken alone.`,
    );
  }
  if (downmix.gain !== 1) {
    warnings.push(`its peak of ${mixed.peak.toPrecision(3)} lies beyond full scale, so it was scaled down.`);
  } else if (mixed.peak > DAMAGED_PEAK) {
    warnings.push(
      `its peak of ${mixed.peak.toPrecision(3)} lies beyond full scale and was cut, as after damage.`,
    );
  }
  return warnings;
}
