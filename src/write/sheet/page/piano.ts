/** A small piano: strings as sums of dying partials, worked out once for each key that is played. */

/** Partials up to this many, and below this frequency in hertz: higher ones are too soft to be missed. */
const MOST_PARTIALS = 14;
const HIGHEST_HZ = 9000;
/**
 * The hammer meets the string at an eighth of its length, where every eighth partial has a node (Fletcher & Rossing,
 * The Physics of Musical Instruments, 2nd ed. 1998, ch. 12; from memory).
 */
const STRIKE = 1 / 8;
/**
 * Stiffness raises partial k by √(1 + B·k²); B of a middle key, and its doubling every eight keys upwards (orders of
 * magnitude as in the same chapter; the values are our choice).
 */
const STIFFNESS = 4e-4;
const STIFFNESS_DOUBLES = 8;
/** Seconds in which middle C dies to 1/e, and the keys upwards that halve it (our choice, by ear). */
const DECAY = 1.5;
const DECAY_HALVES = 20;
const LONGEST = 4;
const ATTACK_SECONDS = 0.004;
const RELEASE_SECONDS = 0.12;
/** Peak of a note. Two may overlap while one is released, so half of full scale never clips. */
const PEAK = 0.45;

export interface Piano {
  /** Plays a key from `at` to `until`, in seconds of the context's clock. */
  readonly strike: (midi: number, at: number, until: number) => void;
  /** A short knock for counting in, the first of a bar higher. */
  readonly knock: (at: number, isFirst: boolean) => void;
  /** Silences everything that sounds or waits. */
  readonly silence: () => void;
}

export function createPiano(context: AudioContext, out: AudioNode): Piano {
  const strings = new Map<number, AudioBuffer>();
  const sounding = new Set<AudioScheduledSourceNode>();
  const start = (source: AudioScheduledSourceNode, gain: GainNode, at: number, until: number) => {
    source.connect(gain).connect(out);
    source.start(at);
    source.stop(until);
    sounding.add(source);
    source.onended = () => {
      sounding.delete(source);
      gain.disconnect();
    };
  };
  return {
    strike: (midi, at, until) => {
      const buffer = strings.get(midi) ?? string(context, midi);
      strings.set(midi, buffer);
      const source = new AudioBufferSourceNode(context, { buffer });
      const gain = new GainNode(context);
      gain.gain.setValueAtTime(1, Math.max(at, until - RELEASE_SECONDS / 2));
      gain.gain.linearRampToValueAtTime(0, until + RELEASE_SECONDS / 2);
      start(source, gain, at, until + RELEASE_SECONDS);
    },
    knock: (at, isFirst) => {
      const source = new OscillatorNode(context, { type: 'triangle', frequency: isFirst ? 1600 : 1100 });
      const gain = new GainNode(context, { gain: 0 });
      gain.gain.setValueAtTime(0, at);
      gain.gain.linearRampToValueAtTime(0.2, at + 0.002);
      gain.gain.exponentialRampToValueAtTime(0.001, at + 0.06);
      start(source, gain, at, at + 0.08);
    },
    silence: () => {
      for (const source of sounding) source.stop();
      sounding.clear();
    },
  };
}

/** One key, struck and let ring. Each partial is a turning pointer: no sine is worked out per sample. */
function string(context: AudioContext, midi: number): AudioBuffer {
  const rate = context.sampleRate;
  const decay = DECAY * 2 ** ((60 - midi) / DECAY_HALVES);
  const length = Math.ceil(rate * Math.min(LONGEST, 4 * decay));
  const samples = new Float32Array(length);
  const base = 440 * 2 ** ((midi - 69) / 12);
  const stiffness = STIFFNESS * 2 ** ((midi - 60) / STIFFNESS_DOUBLES);
  for (let k = 1; k <= MOST_PARTIALS; k++) {
    const hz = k * base * Math.sqrt(1 + stiffness * k * k);
    if (hz > Math.min(HIGHEST_HZ, rate / 2)) break;
    const level = Math.abs(Math.sin(Math.PI * k * STRIKE)) / k ** 1.4;
    const turn = (2 * Math.PI * hz) / rate;
    const shrink = Math.exp(-(0.7 + 0.3 * k) / (decay * rate));
    let [re, im] = [0, level];
    const [c, s] = [shrink * Math.cos(turn), shrink * Math.sin(turn)];
    for (let i = 0; i < length; i++) {
      samples[i]! += re;
      [re, im] = [re * c + im * s, im * c - re * s];
    }
  }
  const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const attack = Math.ceil(ATTACK_SECONDS * rate);
  for (let i = 0; i < length; i++) samples[i]! *= (PEAK / peak) * Math.min(1, i / attack);
  const buffer = new AudioBuffer({ length, sampleRate: rate });
  buffer.copyToChannel(samples, 0);
  return buffer;
}
