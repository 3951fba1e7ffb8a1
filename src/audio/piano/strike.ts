/** A struck key, rendered: strings, hammer and damper. */
import { seeded } from '../../dsp/seeded.js';
import { stringModes } from './strings.js';

/** A key that is struck and let go. */
export interface Strike {
  /** MIDI number 0..127. */
  readonly midi: number;
  /** Seconds from the start of the sound; not negative. */
  readonly start: number;
  /** Seconds: the key is let go. */
  readonly end: number;
  /** 0..1: how hard; 0.6 is mezzo forte. */
  readonly velocity: number;
}

/** Amplitude of a note struck with velocity 1. */
const LOUDEST = 0.35;
/** Amplitude goes as velocity to this power: 12 dB from piano (0.35) to forte (0.8). */
const LOUDNESS_POWER = 1.7;
/** What is 80 dB down, in nepers, is not rendered any longer: other partials cover it. */
const INAUDIBLE_NEPERS = 9.2;
/** Keys above this one have no damper (common practice: the top octave and a half). */
const HIGHEST_DAMPED = 89;

/** Seconds in which the strings come to full motion: a hammer stays some 4 ms on a bass string, 1 ms high up. */
function riseSeconds(midi: number): number {
  return 0.0035 * 2 ** (-(midi - 48) / 24);
}

/** Nepers a second that a damper takes: 60 dB in a fifth of a second in the middle, longer in the bass and of low partials. */
function damperDecay(midi: number, hz: number): number {
  return midi > HIGHEST_DAMPED ? 0 : 28 * 2 ** ((midi - 60) / 36) * (1 + hz / 4000);
}

/** Adds a struck key to `out`; what lies beyond its end is left out. `sampleRate` in hertz. */
export function addStrike(out: Float32Array, sampleRate: number, strike: Strike): void {
  const { midi, velocity, start, end } = strike;
  const loudness = LOUDEST * velocity ** LOUDNESS_POWER;
  const first = Math.round(start * sampleRate);
  const release = Math.round(end * sampleRate);
  const rise = Math.max(1, Math.round(riseSeconds(midi) * sampleRate));
  for (const { hz, amplitude, phase, decay } of stringModes(midi, velocity)) {
    addMode(out, {
      first,
      release,
      rise,
      amplitude: amplitude * loudness,
      phase,
      turn: (2 * Math.PI * hz) / sampleRate,
      held: decay / sampleRate,
      damped: (decay + damperDecay(midi, hz)) / sampleRate,
      floor: loudness * Math.exp(-INAUDIBLE_NEPERS),
    });
  }
  addHammer(out, sampleRate, first, midi, loudness * velocity);
}

interface Rendered {
  /** Samples: where it begins, where it is let go, and how many it takes to rise. */
  readonly first: number;
  readonly release: number;
  readonly rise: number;
  readonly amplitude: number;
  /** Radians at the start, of a sine; and a sample. */
  readonly phase: number;
  readonly turn: number;
  /** Nepers a sample while held, and after. */
  readonly held: number;
  readonly damped: number;
  /** Amplitude at which it ends. */
  readonly floor: number;
}

/** A decaying sine that rises along half a cosine, so that nothing jumps, and is damped from its release on. */
function addMode(out: Float32Array, mode: Rendered): void {
  const { first, rise, amplitude, phase, turn, held, floor } = mode;
  const released = Math.max(mode.release, first);
  const until = (from: number, size: number, nepers: number) =>
    Math.min(out.length, from + Math.max(0, Math.ceil(Math.log(size / floor) / nepers)));
  const end = Math.min(released, until(first, amplitude, held));
  addDecay(out, [first, end], { amplitude, phase, turn, nepers: held }, rise);
  if (end < released) return;
  const since = released - first;
  const left = { amplitude: amplitude * Math.exp(-held * since), phase: phase + turn * since };
  const stop = until(released, left.amplitude, mode.damped);
  addDecay(out, [released, stop], { ...left, turn, nepers: mode.damped }, 0);
}

interface Decay {
  readonly amplitude: number;
  readonly phase: number;
  readonly turn: number;
  readonly nepers: number;
}

/** Adds a·e^(−d·i)·sin(phase + turn·i), each value from the two before it, over a rise of `rise` samples. */
function addDecay(
  out: Float32Array,
  [from, to]: readonly [number, number],
  { amplitude, phase, turn, nepers }: Decay,
  rise: number,
): void {
  const shrink = Math.exp(-nepers);
  const again = 2 * shrink * Math.cos(turn);
  const back = shrink * shrink;
  let last = (amplitude / shrink) * Math.sin(phase - turn);
  let now = amplitude * Math.sin(phase);
  for (let i = from; i < to; i++) {
    const risen = i - from;
    out[i]! += risen < rise ? now * (0.5 - 0.5 * Math.cos((Math.PI * risen) / rise)) : now;
    const next = again * now - back * last;
    last = now;
    now = next;
  }
}

/** The knock of hammer and key bed: modes of the wooden body, hertz and nepers a second (our choice by ear). */
const KNOCKS = [
  [86, 45],
  [137, 60],
  [208, 75],
  [310, 95],
  [455, 120],
  [690, 150],
] as const;
/** Amplitude of each of them beside the strings. */
const KNOCK_SHARE = 0.035;

/**
 * Noise of the felt and of the soundboard's many high modes: amplitude beside the strings, nepers a second, and the
 * share of it that passes a low-pass a sample. By ear, and by the spectra of sampled pianos, whose noise between the
 * partials is 60 dB down after a third of a second.
 */
const NOISES = [
  { share: 0.18, decay: 110, smoothing: 0.35 },
  { share: 0.045, decay: 16, smoothing: 0.2 },
] as const;
/** Nepers after which noise ends, and seconds in which it comes to its full level. */
const NOISE_NEPERS = 9;
const NOISE_RISE_SECONDS = 0.0015;

function addHammer(
  out: Float32Array,
  sampleRate: number,
  first: number,
  midi: number,
  amplitude: number,
): void {
  for (const [hz, decay] of KNOCKS) {
    addMode(out, {
      first,
      release: out.length,
      rise: Math.round(0.001 * sampleRate),
      amplitude: amplitude * KNOCK_SHARE,
      phase: 0,
      turn: (2 * Math.PI * hz) / sampleRate,
      held: decay / sampleRate,
      damped: decay / sampleRate,
      floor: amplitude * Math.exp(-INAUDIBLE_NEPERS),
    });
  }
  const random = seeded(midi + 1000);
  for (const { share, decay, smoothing } of NOISES) {
    const shrink = Math.exp(-decay / sampleRate);
    const rise = NOISE_RISE_SECONDS * sampleRate;
    const length = Math.min(out.length - first, Math.ceil((NOISE_NEPERS / decay) * sampleRate));
    let level = amplitude * share;
    let smooth = 0;
    for (let i = 0; i < length; i++) {
      smooth += smoothing * (2 * random() - 1 - smooth);
      out[first + i]! += smooth * level * Math.min(1, i / rise);
      level *= shrink;
    }
  }
}
