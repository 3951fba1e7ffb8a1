/** Pulses that onsets keep to: a steady rate for the whole song, or one that follows the singer. */
import { countAt, steadyTrack, type Track } from './track.js';

/** Pulses a second that are looked for: from a slow beat to the sixteenths of a fast one. */
const SLOWEST_HZ = 0.7;
const FASTEST_HZ = 12;

/** Rates that are followed further, of each kind. */
const STEADY_RATES = 8;
const FOLLOWED_RATES = 4;

/**
 * Length in seconds of the excerpts in which a following pulse is steady, and the time from one to the next.
 */
const EXCERPT_SECONDS = 8;
const EXCERPT_HOP_SECONDS = 2;

/** Length in seconds of the excerpts in which steady rates are looked for; the whole sharpens them. */
const STEADY_SECONDS = 60;
/** Steps in which the peak of a perfectly steady rate is sampled. */
const BINS_A_PEAK = 5;
/** How far the steady rate of the whole may be from one found in short excerpts, as a share. */
const NEAR_RATE = 0.01;

/**
 * Steps of rate that a following pulse is looked for at, each side of the rate of the whole, and the size of
 * one.
 */
const RATE_STEPS = 20;
const RATE_STEP = 0.0075;
/** Usual change of rate from an excerpt to the next (standard deviation), as a share. */
const RATE_CHANGE = 0.015;

/** Spread in seconds of the neighbourhood from which the phase of a following pulse is taken. */
const PHASE_SPREAD_SECONDS = 3;
const PHASE_ROUNDS = 3;

/**
 * Tracks that many of the onsets fall on, counting 0, 1, … at the pulses: the strongest steady ones and the
 * strongest that follow a drifting tempo. Steady rates are peaks of the periodogram of all onsets; followed ones
 * are peaks of the mean periodogram of excerpts of 8 s (the tempogram of Grosche & Müller, IEEE TASLP 19(6),
 * 2011), whose rate runs along the best path through the excerpts and whose phase is the circular mean of the
 * onsets near by.
 *
 * @param onsets seconds, in order, at least two
 */
export function pulseTracks(onsets: readonly number[]): { steady: Track[]; followed: Track[] } {
  const excerpts = excerptsOf(onsets, EXCERPT_SECONDS, EXCERPT_HOP_SECONDS);
  const steadyRates = peaksOf(excerptsOf(onsets, STEADY_SECONDS, STEADY_SECONDS)).slice(0, STEADY_RATES);
  const localRates = peaksOf(excerpts).slice(0, FOLLOWED_RATES);
  const rates = [
    ...steadyRates.map((hz) => sharpened(onsets, hz, 1 / STEADY_SECONDS)),
    ...localRates.map((hz) => sharpened(onsets, hz, NEAR_RATE * hz)),
  ];
  return {
    steady: rates.map((hz) => steadyTrack(hz, onsets[0]!, phaseOf(onsets, hz, onsets[0]!))),
    followed: excerpts.length < 3 ? [] : localRates.map((hz) => follow(onsets, excerpts, hz)),
  };
}

interface Excerpt {
  readonly centre: number;
  readonly onsets: readonly number[];
}

/** The onsets cut into stretches of some seconds, the first of them about the first onset. */
function excerptsOf(onsets: readonly number[], seconds: number, hopSeconds: number): Excerpt[] {
  const excerpts: Excerpt[] = [];
  let from = 0;
  for (let centre = onsets[0]!; ; centre += hopSeconds) {
    while (onsets[from]! < centre - seconds / 2) from++;
    let to = from;
    while (to < onsets.length && onsets[to]! < centre + seconds / 2) to++;
    excerpts.push({ centre, onsets: onsets.slice(from, to) });
    if (to === onsets.length && centre >= onsets.at(-1)!) return excerpts;
  }
}

/**
 * Rates at which the mean power of the excerpts is greatest, strongest first. Power is over the number of onsets:
 * 1 where they are random, their number where all agree.
 */
function peaksOf(excerpts: readonly Excerpt[]): number[] {
  const longest = Math.max(...excerpts.map((e) => (e.onsets.at(-1) ?? 0) - (e.onsets[0] ?? 0)));
  const step = 1 / (BINS_A_PEAK * Math.max(longest, 1));
  const power = new Float64Array(Math.floor((FASTEST_HZ - SLOWEST_HZ) / step) + 1);
  for (const excerpt of excerpts) addPower(excerpt.onsets, SLOWEST_HZ, step, power);
  const peaks: { hz: number; power: number }[] = [];
  for (let k = 1; k + 1 < power.length; k++) {
    const [before, here, after] = [power[k - 1]!, power[k]!, power[k + 1]!];
    if (here < before || here <= after) continue;
    const offset = (before - after) / (2 * (before - 2 * here + after));
    peaks.push({ hz: SLOWEST_HZ + (k + offset) * step, power: here });
  }
  return peaks.sort((a, b) => b.power - a.power).map((peak) => peak.hz);
}

/** Adds the power of the onsets at `fromHz` + k·step to every `power[k]`. */
function addPower(onsets: readonly number[], fromHz: number, step: number, power: Float64Array): void {
  const real = new Float64Array(power.length);
  const imaginary = new Float64Array(power.length);
  for (const onset of onsets) {
    const time = 2 * Math.PI * (onset - onsets[0]!);
    const stepCos = Math.cos(step * time);
    const stepSin = Math.sin(step * time);
    let cos = Math.cos(fromHz * time);
    let sin = Math.sin(fromHz * time);
    for (let k = 0; k < power.length; k++) {
      real[k] += cos;
      imaginary[k] += sin;
      const turned = cos * stepCos - sin * stepSin;
      sin = sin * stepCos + cos * stepSin;
      cos = turned;
    }
  }
  for (let k = 0; k < power.length; k++) {
    power[k] += (real[k]! ** 2 + imaginary[k]! ** 2) / Math.max(onsets.length, 1);
  }
}

/** The rate within `reach` hertz of a rate found in excerpts at which the onsets of the whole agree most. */
function sharpened(onsets: readonly number[], hz: number, reach: number): number {
  const step = 1 / (BINS_A_PEAK * Math.max(onsets.at(-1)! - onsets[0]!, 1));
  const steps = Math.ceil(reach / step);
  const power = new Float64Array(2 * steps + 1);
  addPower(onsets, hz - steps * step, step, power);
  return hz + (power.indexOf(Math.max(...power)) - steps) * step;
}

function powerAt(onsets: readonly number[], hz: number): number {
  let cos = 0;
  let sin = 0;
  for (const onset of onsets) {
    cos += Math.cos(2 * Math.PI * hz * onset);
    sin += Math.sin(2 * Math.PI * hz * onset);
  }
  return (cos * cos + sin * sin) / Math.max(onsets.length, 1);
}

/**
 * Count in pulses, between −0.5 and 0.5, that the track must have at `seconds` for the onsets to fall on
 * pulses.
 */
function phaseOf(onsets: readonly number[], hz: number, seconds: number): number {
  let cos = 0;
  let sin = 0;
  for (const onset of onsets) {
    const angle = 2 * Math.PI * hz * (onset - seconds);
    cos += Math.cos(angle);
    sin += Math.sin(angle);
  }
  return -Math.atan2(sin, cos) / (2 * Math.PI);
}

/** A track near a rate that follows the onsets. */
function follow(onsets: readonly number[], excerpts: readonly Excerpt[], hz: number): Track {
  const rates = ratePath(excerpts, hz);
  const seconds = excerpts.map((e) => e.centre);
  const counts = [0];
  for (let i = 1; i < seconds.length; i++) {
    counts.push(counts[i - 1]! + ((rates[i - 1]! + rates[i]!) / 2) * (seconds[i]! - seconds[i - 1]!));
  }
  for (let round = 0; round < PHASE_ROUNDS; round++) takePhase(onsets, seconds, counts);
  return { seconds, counts };
}

/** Rate in every excerpt: the path with the most power and the smallest changes (Viterbi). */
function ratePath(excerpts: readonly Excerpt[], hz: number): number[] {
  const states = 2 * RATE_STEPS + 1;
  const rate = (state: number) => hz * (1 + RATE_STEP) ** (state - RATE_STEPS);
  let scores = new Float64Array(states);
  const from: Int32Array[] = [];
  for (const { onsets } of excerpts) {
    const next = new Float64Array(states);
    const back = new Int32Array(states);
    for (let state = 0; state < states; state++) {
      let best = Number.NEGATIVE_INFINITY;
      for (let before = 0; before < states; before++) {
        const change = ((state - before) * RATE_STEP) / RATE_CHANGE;
        const score = scores[before]! - (change * change) / 2;
        if (score > best) {
          best = score;
          back[state] = before;
        }
      }
      // Each onset is in several excerpts and counts once.
      next[state] = best + (powerAt(onsets, rate(state)) * EXCERPT_HOP_SECONDS) / EXCERPT_SECONDS;
    }
    scores = next;
    from.push(back);
  }
  const rates: number[] = [];
  let state = scores.indexOf(Math.max(...scores));
  for (let i = excerpts.length - 1; i >= 0; i--) {
    rates.push(rate(state));
    state = from[i]![state]!;
  }
  return rates.reverse();
}

/** Moves the counts so that onsets near each knot fall on pulses; the moves of neighbours stay together. */
function takePhase(onsets: readonly number[], seconds: readonly number[], counts: number[]): void {
  const track: Track = { seconds: [...seconds], counts: [...counts] };
  const phases = onsets.map((onset) => 2 * Math.PI * countAt(track, onset));
  let move = 0;
  let from = 0;
  for (let i = 0; i < seconds.length; i++) {
    let cos = 0;
    let sin = 0;
    while (onsets[from]! < seconds[i]! - 3 * PHASE_SPREAD_SECONDS) from++;
    for (let n = from; n < onsets.length && onsets[n]! <= seconds[i]! + 3 * PHASE_SPREAD_SECONDS; n++) {
      const distance = (onsets[n]! - seconds[i]!) / PHASE_SPREAD_SECONDS;
      const weight = Math.exp(-(distance * distance) / 2);
      cos += weight * Math.cos(phases[n]!);
      sin += weight * Math.sin(phases[n]!);
    }
    if (cos !== 0 || sin !== 0) {
      const own = -Math.atan2(sin, cos) / (2 * Math.PI);
      move = i === 0 ? own : own + Math.round(move - own);
    }
    counts[i] = Math.max(counts[i]! + move, i === 0 ? Number.NEGATIVE_INFINITY : counts[i - 1]! + 1e-3);
  }
}
