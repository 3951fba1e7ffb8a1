import {
  type HarmonicSource,
  harmonicFrames,
  LOG_BINS,
  logSpectra,
  PITCH_BINS,
  STACK_CHANNELS,
  writeStack,
} from './harmonic.js';
import { MEL_BANDS } from './mel.js';
import { pieces } from './pieces.js';
import type { Network } from './session.js';

/**
 * Frames that the network takes at once: 12 s, about 8 MB of input. Pieces of 20 s took 40 MB more at the highest
 * and, since less of them is context seen twice, a tenth less of the network's time.
 */
const PIECE_FRAMES = 600;
/** Frames on either side on which an output depends: 10 by the layers over pitch, 63 by those over time; and some. */
const CONTEXT_FRAMES = 80;
/** Logits of a frame of 20 ms: three heads, each at its two moments on the grid of 10 ms. */
const HEADS = 6;

/** What the mix network says. Frame t of 20 ms holds the moments 2t and 2t + 1 of the grid of 10 ms. */
export interface MixOutput {
  /** Frames of 20 ms. */
  readonly frameCount: number;
  /** Logit of pitch bin k in frame t at `t * PITCH_BINS + k`: a softmax over the bins, where a voice has a pitch. */
  readonly salience: Float32Array;
  /** Logits at every 10 ms, `2 * frameCount` of each. */
  readonly voiced: Float32Array;
  readonly sounding: Float32Array;
  readonly onset: Float32Array;
}

/**
 * Runs the mix network over a recording, piece by piece.
 *
 * @param mel levels of at least `2 * frames` moments (mel.ts)
 * @param pieceFrames frames kept of each piece; the outputs do not depend on it
 */
export async function runMixNetwork(
  network: Network,
  source: HarmonicSource,
  mel: Float32Array,
  pieceFrames = PIECE_FRAMES,
): Promise<MixOutput> {
  const frameCount = harmonicFrames(source.samples.length);
  const spectra = logSpectra();
  const most = Math.min(frameCount, pieceFrames + 2 * CONTEXT_FRAMES);
  const logSpectrum = new Float32Array(most * LOG_BINS);
  const stack = new Float32Array(STACK_CHANNELS * most * PITCH_BINS);
  const fine = new Float32Array(2 * MEL_BANDS * most);
  const out = {
    frameCount,
    salience: new Float32Array(frameCount * PITCH_BINS),
    voiced: new Float32Array(2 * frameCount),
    sounding: new Float32Array(2 * frameCount),
    onset: new Float32Array(2 * frameCount),
  };
  for (const { first, count, keepFirst, keepCount } of pieces(frameCount, pieceFrames, CONTEXT_FRAMES)) {
    spectra.write(source, first, count, logSpectrum);
    writeStack(logSpectrum, count, stack);
    writeFine(mel, first, count, fine);
    const { salience, heads } = await network.run({
      harmonics: {
        data: stack.subarray(0, STACK_CHANNELS * count * PITCH_BINS),
        dimensions: [1, STACK_CHANNELS, count, PITCH_BINS],
      },
      fine: { data: fine.subarray(0, 2 * MEL_BANDS * count), dimensions: [1, 2 * MEL_BANDS, count] },
    });
    const skip = keepFirst - first;
    out.salience.set(
      salience.subarray(skip * PITCH_BINS, (skip + keepCount) * PITCH_BINS),
      keepFirst * PITCH_BINS,
    );
    for (let t = 0; t < keepCount; t++) {
      const from = (skip + t) * HEADS;
      const to = 2 * (keepFirst + t);
      for (let sub = 0; sub < 2; sub++) {
        out.voiced[to + sub] = heads[from + sub];
        out.sounding[to + sub] = heads[from + 2 + sub];
        out.onset[to + sub] = heads[from + 4 + sub];
      }
    }
  }
  return out;
}

/** Channel `sub * MEL_BANDS + band` of frame t is the band's level at moment 2t + sub; frames side by side. */
function writeFine(mel: Float32Array, first: number, count: number, out: Float32Array): void {
  for (let t = 0; t < count; t++) {
    const from = 2 * (first + t) * MEL_BANDS;
    for (let c = 0; c < 2 * MEL_BANDS; c++) out[c * count + t] = mel[from + c];
  }
}
