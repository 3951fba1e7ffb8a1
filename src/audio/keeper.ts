import { createResampler } from '../dsp/resample.js';
import { ANALYSIS_RATE } from './types.js';

/** Where samples are collected that come piece by piece. */
interface Store<Kept> {
  add(samples: Float32Array): void;
  length(): number;
  take(): Kept;
}

export type Keeper<Kept> = ReturnType<typeof createKeeper<Kept>>;

/**
 * Resamples a stream from `rate` to ANALYSIS_RATE and collects `from` to `to` (seconds) of it in `store`, clamped to ±1.
 *
 * @param attenuationDb of the resampler's filter, its own unless given
 */
export function createKeeper<Kept>(
  store: Store<Kept>,
  rate: number,
  { from, to }: { readonly from: number; readonly to: number },
  attenuationDb?: number,
) {
  const resampler = createResampler(rate, ANALYSIS_RATE, attenuationDb);
  const first = Math.round(from * ANALYSIS_RATE);
  const end = Math.round(to * ANALYSIS_RATE);
  let position = 0;

  function collect(samples: Float32Array): boolean {
    const start = Math.min(Math.max(first - position, 0), samples.length);
    const stop = Math.min(Math.max(end - position, start), samples.length);
    position += samples.length;
    if (stop > start) {
      const part = samples.subarray(start, stop);
      clamp(part);
      store.add(part);
    }
    return position < end;
  }

  return {
    /** Adds the next samples of the stream; false once `to` is reached. */
    add: (samples: Float32Array): boolean => collect(resampler.push(samples)),
    /** Adds what the resampler still holds; false where `to` is reached. */
    finish: (): boolean => collect(resampler.finish()),
    length: (): number => store.length(),
    /** What was collected, once. */
    take: (): Kept => store.take(),
  };
}

/** Apart from the stream, so that the fast code that the engine makes of it serves the next recording too. */
function clamp(samples: Float32Array): void {
  for (let i = 0; i < samples.length; i++) samples[i] = Math.min(Math.max(samples[i]!, -1), 1);
}
