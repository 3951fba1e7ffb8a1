/** What a phone in a room adds to a recording: echo, noise, hum, knocks, a narrow band. */
import type { Random } from '../../../fixtures/maker/random.js';
import { lowPass } from '../../../src/dsp/low-pass.js';
import { withNoise } from '../noise.js';

const CHANCES = { echo: 0.35, noise: 0.6, hum: 0.2, knocks: 0.25, narrow: 0.15 };
/** Seconds in which an echo falls by 60 dB, its power against the direct sound's, and how many reflections it has. */
const ECHO = { shortest: 0.2, longest: 1.2, least: 0.1, most: 0.5, reflections: 300 };
/** Mean power of the recording against the noise's and the hum's, decibels. */
const SNR_DB = { lowest: 3, highest: 35 };
const HUM_DB = { lowest: 25, highest: 45 };
const HUM_PARTIALS = [1, 0.6, 0.4];
/** Knocks a second, amplitude against the recording's, and samples of one knock. */
const KNOCKS = { fewest: 0.1, most: 0.6, softest: 0.3, loudest: 2, samples: 3000 };
/** Upper end of a telephone's band. */
const NARROW_HZ = 3400;

/** A copy with a random choice of these, possibly none. */
export function inRoom(samples: Float32Array, sampleRate: number, random: Random): Float32Array {
  let sound = samples;
  if (random.chance(CHANCES.echo)) sound = withEcho(sound, sampleRate, random);
  if (random.chance(CHANCES.knocks)) sound = withKnocks(sound, sampleRate, random);
  if (random.chance(CHANCES.hum)) sound = withHum(sound, sampleRate, random);
  if (random.chance(CHANCES.noise)) sound = withNoise(sound, random, SNR_DB);
  if (random.chance(CHANCES.narrow)) sound = lowPass(sound, sampleRate, NARROW_HZ);
  return sound;
}

export function amplitudeOf(samples: Float32Array): number {
  let energy = 0;
  for (let i = 0; i < samples.length; i++) energy += samples[i] * samples[i];
  return Math.sqrt(energy / Math.max(samples.length, 1));
}

/** Reflections at random times whose level falls evenly (J. A. Moorer 1979, from memory). */
function withEcho(samples: Float32Array, sampleRate: number, random: Random): Float32Array {
  const length = random.between(ECHO.shortest, ECHO.longest) * sampleRate;
  const taps = Array.from({ length: ECHO.reflections }, () => {
    const delay = Math.floor(random.between(0, length));
    return { delay, gain: random.gauss() * 10 ** ((-3 * delay) / length) };
  });
  const power = taps.reduce((sum, { gain }) => sum + gain * gain, 0);
  const scale = Math.sqrt(random.between(ECHO.least, ECHO.most) / power);
  const out = Float32Array.from(samples);
  for (const { delay, gain } of taps) {
    for (let i = delay; i < out.length; i++) out[i] += scale * gain * samples[i - delay];
  }
  return out;
}

function withHum(samples: Float32Array, sampleRate: number, random: Random): Float32Array {
  const gain = amplitudeOf(samples) * 10 ** (-random.between(HUM_DB.lowest, HUM_DB.highest) / 20);
  const hz = random.pick([50, 60]);
  return samples.map((value, i) => {
    const turn = (2 * Math.PI * hz * i) / sampleRate;
    return value + gain * HUM_PARTIALS.reduce((sum, level, k) => sum + level * Math.sin((k + 1) * turn), 0);
  });
}

function withKnocks(samples: Float32Array, sampleRate: number, random: Random): Float32Array {
  const out = Float32Array.from(samples);
  if (samples.length <= KNOCKS.samples) return out;
  const count = Math.round((samples.length / sampleRate) * random.between(KNOCKS.fewest, KNOCKS.most));
  const gain = amplitudeOf(samples) * random.between(KNOCKS.softest, KNOCKS.loudest);
  for (let knock = 0; knock < count; knock++) {
    const start = Math.floor(random.between(0, samples.length - KNOCKS.samples));
    const turn = (2 * Math.PI * random.between(80, 900)) / sampleRate;
    const fade = random.between(100, 1200);
    for (let i = 0; i < KNOCKS.samples; i++) {
      out[start + i] += gain * Math.exp(-i / fade) * (0.5 * random.gauss() + Math.sin(turn * i));
    }
  }
  return out;
}
