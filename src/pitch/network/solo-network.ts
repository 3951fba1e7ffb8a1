import { pieces } from './pieces.js';
import type { Network } from './session.js';
import { SOLO_VALUES } from './solo-frames.js';

/** Frames that the network takes at once: 40 s, under 1 MB of input. */
const PIECE_FRAMES = 4000;
/** Frames on either side on which an output depends: 6 by the first layers, 63 by those that follow; and some. */
const CONTEXT_FRAMES = 80;
const HEADS = 3;

/** What the solo network says of every frame of 10 ms: logits. */
export interface SoloOutput {
  readonly voiced: Float32Array;
  readonly sounding: Float32Array;
  readonly onset: Float32Array;
}

/**
 * Runs the solo network over a recording, piece by piece.
 *
 * @param frames the input of all frames (solo-frames.ts)
 * @param pieceFrames frames kept of each piece; the outputs do not depend on it
 */
export async function runSoloNetwork(
  network: Network,
  frames: Float32Array,
  pieceFrames = PIECE_FRAMES,
): Promise<SoloOutput> {
  const frameCount = frames.length / SOLO_VALUES;
  const out = {
    voiced: new Float32Array(frameCount),
    sounding: new Float32Array(frameCount),
    onset: new Float32Array(frameCount),
  };
  for (const { first, count, keepFirst, keepCount } of pieces(frameCount, pieceFrames, CONTEXT_FRAMES)) {
    const data = new Float32Array(SOLO_VALUES * count);
    for (let c = 0; c < SOLO_VALUES; c++) {
      data.set(frames.subarray(c * frameCount + first, c * frameCount + first + count), c * count);
    }
    const { heads } = await network.run({ frames: { data, dimensions: [1, SOLO_VALUES, count] } });
    for (let u = 0; u < keepCount; u++) {
      const from = (keepFirst - first + u) * HEADS;
      out.voiced[keepFirst + u] = heads[from];
      out.sounding[keepFirst + u] = heads[from + 1];
      out.onset[keepFirst + u] = heads[from + 2];
    }
  }
  return out;
}
