/** A recording as it is played back: mono, at the rate of the guide. */
import { createResampler } from '../dsp/resample.js';
import { InputError } from '../errors.js';
import { decodeBlocks } from './decode.js';
import { createMixer, type Downmix } from './mix.js';
import { createPages } from './pages.js';

/** Sample rate of what is played, in hertz: that of the compact disc, which every player takes. */
export const PLAY_RATE = 44_100;
/** Rates that a recording is resampled to for its tuning are multiples of this, hertz: to a cent. */
const RATE_STEP = 50;

/** The sound between two moments of a recording. */
export interface PlayableRange {
  /** Seconds. */
  readonly from: number;
  readonly to: number;
  /** How far the recording lies above A4 = 440 Hz; it is brought down by so much. */
  readonly tuningCents: number;
}

export interface Playable {
  /** At PLAY_RATE once stretched by `speed`; begins at `from`. */
  readonly samples: Float32Array;
  /** By how much the tuning has changed the speed: 1 where it has not. Sample n is at from + n · speed / PLAY_RATE. */
  readonly speed: number;
}

/** Tuning nearer than this, in cents, is left as it is: it cannot be heard, and costs nothing then. */
const LEFT_CENTS = 3;

/**
 * Decodes a part of a recording for playing. The tuning is changed as a tape's would be, by its speed, which the caller
 * takes out again by stretching.
 * @throws InputError where there is no sound in the part
 */
export async function decodePlayable(
  bytes: Uint8Array,
  label: string,
  { from, to, tuningCents }: PlayableRange,
): Promise<Playable> {
  const cents = Math.abs(tuningCents) < LEFT_CENTS ? 0 : tuningCents;
  const rate = RATE_STEP * Math.round((PLAY_RATE * 2 ** (cents / 1200)) / RATE_STEP);
  const first = await mixed(bytes, label, { from, to, rate }, { gain: 1, channel: null });
  const again = first.better;
  const samples =
    again === null ? first.samples : (await mixed(bytes, label, { from, to, rate }, again)).samples;
  if (samples.length === 0) throw new InputError(`${label} holds no sound from ${from.toFixed(1)} s on.`);
  return { samples, speed: PLAY_RATE / rate };
}

async function mixed(
  bytes: Uint8Array,
  label: string,
  { from, to, rate }: { readonly from: number; readonly to: number; readonly rate: number },
  downmix: Downmix,
) {
  const mixer = createMixer(downmix);
  const pages = createPages();
  const [first, end] = [Math.round(from * rate), Math.round(to * rate)];
  let at = 0;
  const keep = (samples: Float32Array) => {
    pages.add(samples.subarray(Math.max(0, first - at), Math.max(0, end - at)));
    at += samples.length;
  };
  let resampler: ReturnType<typeof createResampler> | null = null;
  for await (const { sampleRate, channels } of decodeBlocks(bytes, label)) {
    resampler ??= createResampler(sampleRate, rate);
    keep(resampler.push(mixer.mix(channels)));
    if (at >= end) break;
  }
  if (resampler !== null && at < end) keep(resampler.finish());
  return { samples: pages.take(), better: mixer.better(true) };
}
