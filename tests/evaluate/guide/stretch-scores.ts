/** How well a stretched recording is the recording, only slower or faster. Pure. */
import { findAttacks } from '../../../src/dsp/stretch/attacks.js';
import { midiToHz } from '../../../src/units.js';
import { centsOff } from '../../dsp/cents-off.js';
import { median, type ScoredNote } from '../note-scores.js';

export interface StretchScores {
  /** Of the notes: median and 95th percentile of the absolute difference in pitch, in cents. */
  readonly medianCents: number;
  readonly highCents: number;
  /** Length off what the speed asks for, in percent. */
  readonly lengthPercent: number;
  /** How many times sharper than the recording is nearby its sharpest moment is, and how many moments are 2 times. */
  readonly sharpest: number;
  readonly clicks: number;
  /** Decibels by which the rise of attacks is smaller: 0 keeps them, 10 smears them. */
  readonly smearDb: number;
}

/** A sound at a rate in hertz. */
export interface Sound {
  readonly samples: Float32Array;
  readonly rate: number;
}

/** Seconds left out at either end of a note: glides and consonants. */
const NOTE_EDGE_SECONDS = 0.06;
/** Notes shorter than this, edges left out, are not measured: a straight line through their phase says little. */
const SHORTEST_SECONDS = 0.15;

/** A note's pitch is told by these partials, of which the middle answer counts: a band may cover one of them. */
const PARTIALS = [1, 2, 3] as const;

/** Scores `stretched`, at the same rate as the recording `of`, against the true notes of that recording. */
export function scoreStretch(
  stretched: Float32Array,
  of: Sound,
  speed: number,
  notes: readonly ScoredNote[],
): StretchScores {
  const { samples, rate } = of;
  const cents = notes
    .map(({ start, end, pitch }) => ({
      hz: midiToHz(pitch),
      from: start + NOTE_EDGE_SECONDS,
      to: end - NOTE_EDGE_SECONDS,
    }))
    .filter(({ from, to }) => to - from >= SHORTEST_SECONDS && to < samples.length / rate)
    .map(({ hz, from, to }) => {
      const differences = PARTIALS.map((n) =>
        Math.abs(
          centsOff(stretched, rate, n * hz, [from / speed, to / speed]) -
            centsOff(samples, rate, n * hz, [from, to]),
        ),
      );
      return median(differences)!;
    })
    .sort((a, b) => a - b);
  const sharp = sharpness(stretched, of, speed);
  return {
    medianCents: median(cents) ?? Number.NaN,
    highCents: cents[Math.floor(0.95 * cents.length)] ?? Number.NaN,
    lengthPercent: 100 * Math.abs((stretched.length * speed) / samples.length - 1),
    sharpest: Math.max(...sharp),
    clicks: sharp.filter((times) => times > 2).length,
    smearDb: smear(stretched, of, speed),
  };
}

/** What counts as nearby, either way, in milliseconds of the recording. */
const NEAR_MS = 50;
/** Sharpness below this share of the recording's most is inaudible beside it. */
const LEAST_SHARE = 0.02;

/**
 * For every millisecond of the stretched sound: its largest fourth difference, which a jump in the waveform makes large
 * and music does not, over the largest that the recording has within 50 ms of that moment.
 */
function sharpness(stretched: Float32Array, { samples, rate }: Sound, speed: number): number[] {
  const original = fourthDifferences(samples, rate);
  const least = LEAST_SHARE * original.reduce((most, value) => Math.max(most, value), 0);
  return fourthDifferences(stretched, rate).map((value, i) => {
    const from = Math.max(0, Math.floor(i * speed - NEAR_MS));
    const near = original.slice(from, Math.ceil(i * speed + NEAR_MS));
    return value / Math.max(least, ...near);
  });
}

function fourthDifferences(samples: Float32Array, rate: number): number[] {
  const block = Math.round(rate / 1000);
  return Array.from({ length: Math.floor(samples.length / block) }, (_, b) => {
    let most = 0;
    for (let i = Math.max(4, b * block); i < (b + 1) * block; i++) {
      const difference =
        samples[i]! - 4 * samples[i - 1]! + 6 * samples[i - 2]! - 4 * samples[i - 3]! + samples[i - 4]!;
      most = Math.max(most, Math.abs(difference));
    }
    return most;
  });
}

/** Mean over the recording's attacks of how much less the energy rises from the 12 ms before to the 12 ms after. */
function smear(stretched: Float32Array, { samples, rate }: Sound, speed: number): number {
  const rise = (sound: Float32Array, at: number) => {
    const length = Math.round(0.012 * rate);
    const middle = Math.round(at - 0.002 * rate);
    const energy = (from: number) => {
      let sum = 1e-9;
      for (let i = from; i < from + length; i++) sum += (sound[i] ?? 0) ** 2;
      return sum;
    };
    return 10 * Math.log10(energy(middle + Math.round(0.006 * rate)) / energy(middle - length));
  };
  const lost = findAttacks(samples, rate).map((at) => rise(samples, at) - rise(stretched, at / speed));
  return lost.reduce((sum, db) => sum + db, 0) / Math.max(1, lost.length);
}
