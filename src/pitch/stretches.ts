/** Long recordings are tracked in stretches, one after the other, so that memory does not grow with what lies between. */
import type { PitchTrack } from './types.js';

/**
 * Seconds of a stretch that are kept: an hour's probabilities of every pitch take 220 MB, and levels and paths as much
 * again. Songs, and all recordings up to two stretches and a margin, are tracked at once, since margins take time.
 */
export const STRETCH_SECONDS = 300;
/**
 * Seconds on either side that are tracked too and not kept: the networks look at 1.4 s, and of the best paths through
 * the pitches, which have no such bound, those of neighbouring stretches meet within a few notes.
 */
export const MARGIN_SECONDS = 5;

/** The samples of a stretch, and which of its frames are kept. */
export interface Stretch {
  /** Samples of the recording that are tracked, `to` not included. */
  readonly from: number;
  readonly to: number;
  /** First frame that is kept, in the recording and in the stretch. */
  readonly keepFirst: number;
  readonly skip: number;
  readonly keepCount: number;
}

/**
 * Cuts a recording; frame t of it is centred on sample t · hopSamples, and stretches begin at frames of even numbers,
 * since the networks of a mix see two at once.
 */
export function stretchesOf(
  sampleCount: number,
  hopSamples: number,
  sampleRate: number,
  stretchSeconds: number,
): Stretch[] {
  const frames = (seconds: number) => 2 * Math.round((seconds * sampleRate) / (2 * hopSamples));
  const [size, margin] = [frames(stretchSeconds), frames(MARGIN_SECONDS)];
  const frameCount = Math.floor(sampleCount / hopSamples) + 1;
  const count = frameCount <= 2 * size + margin ? 1 : Math.ceil((frameCount - margin) / size);
  return Array.from({ length: count }, (_, i) => {
    const keepFirst = i * size;
    const keepCount = i + 1 < count ? size : frameCount - keepFirst;
    const first = Math.max(0, keepFirst - margin);
    const to = i + 1 < count ? (keepFirst + keepCount + margin) * hopSamples : sampleCount;
    return {
      from: first * hopSamples,
      to: Math.min(to, sampleCount),
      keepFirst,
      skip: keepFirst - first,
      keepCount,
    };
  });
}

/** The curves of a track: all of it but the grid. */
const CURVES = ['pitch', 'voiced', 'sounding', 'onset', 'levelDb'] as const;

/**
 * The track of a whole recording from those of its stretches.
 * @param track tracks the samples from..to as a recording of its own
 */
export async function trackInStretches(
  stretches: readonly Stretch[],
  track: (from: number, to: number) => Promise<PitchTrack>,
): Promise<PitchTrack> {
  const [only] = stretches;
  if (stretches.length === 1) return track(only!.from, only!.to);
  const last = stretches.at(-1)!;
  const frameCount = last.keepFirst + last.keepCount;
  const curve = () => new Float32Array(frameCount);
  const whole = { pitch: curve(), voiced: curve(), sounding: curve(), onset: curve(), levelDb: curve() };
  let grid: PitchTrack['grid'] | null = null;
  for (const { from, to, keepFirst, skip, keepCount } of stretches) {
    const part = await track(from, to);
    grid ??= part.grid;
    for (const name of CURVES) whole[name].set(part[name].subarray(skip, skip + keepCount), keepFirst);
  }
  return { grid: { ...grid!, frameCount }, ...whole };
}
