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
import { type Piece, pieces } from './pieces.js';
import type { Network } from './session.js';

/** Frames that the network looks at at once: 12 s, about 6 MB of input. Longer pieces save little and take more memory. */
const PIECE_FRAMES = 600;
/** … in long recordings: 25 MB less, for 4 % more of the network's time. */
export const SHORT_PIECE_FRAMES = 300;
/** Pieces to which it listens at once: little is done for each frame, and there is more context. */
const LISTEN_PIECES = 2;
/** Frames on either side on which what is seen depends: 10, by the layers over pitch; and some. */
const LOOK_CONTEXT_FRAMES = 12;
/** Frames on either side on which the rest depends: 64, by the layers over time; and some. Little is done for each. */
const LISTEN_CONTEXT_FRAMES = 70;
/** Values by which the network tells what it saw in a frame. */
const SEEN_VALUES = 128;
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

/** The two parts of the mix network: what is seen in the spectra, and what that means among what is near in time. */
export interface MixNetwork {
  readonly look: Network;
  readonly listen: Network;
}

/**
 * Runs the mix network over a recording, piece by piece: first the part that looks at the spectra, then, as soon as it
 * has looked far enough ahead, the part that listens to a second and more around each frame.
 *
 * @param mel levels of at least `2 * frames` moments (mel.ts)
 * @param pieceFrames frames kept of each piece; the outputs do not depend on it
 */
export async function runMixNetwork(
  network: MixNetwork,
  source: HarmonicSource,
  mel: Float32Array,
  pieceFrames = PIECE_FRAMES,
): Promise<MixOutput> {
  const frameCount = harmonicFrames(source.samples.length);
  const out = {
    frameCount,
    salience: new Float32Array(frameCount * PITCH_BINS),
    voiced: new Float32Array(2 * frameCount),
    sounding: new Float32Array(2 * frameCount),
    onset: new Float32Array(2 * frameCount),
  };
  const look = looker(network.look, source, pieceFrames);
  const listenFrames = LISTEN_PIECES * pieceFrames;
  const most = Math.min(frameCount, listenFrames + 2 * LISTEN_CONTEXT_FRAMES);
  const listen = listener(network.listen, mel, most);
  const toListen = pieces(frameCount, listenFrames, LISTEN_CONTEXT_FRAMES);
  let seen: Seen[] = [];
  for (const piece of pieces(frameCount, pieceFrames, LOOK_CONTEXT_FRAMES)) {
    seen.push(await look(piece, out.salience));
    const lookedTo = piece.keepFirst + piece.keepCount;
    while (toListen.length > 0 && toListen[0].first + toListen[0].count <= lookedTo) {
      const next = toListen.shift()!;
      await listen(next, seen, out);
      const needed = toListen[0]?.first ?? frameCount;
      seen = seen.filter(({ first, count }) => first + count > needed);
    }
  }
  return out;
}

/** What was seen in frames `first` to `first + count` − 1: value c of the i-th at `c * count + i`. */
interface Seen {
  readonly first: number;
  readonly count: number;
  readonly values: Float32Array;
}

/** What looks at a piece, writes its salience, before it is leaned, into that of the whole, and says what it saw. */
function looker(network: Network, source: HarmonicSource, pieceFrames: number) {
  const frameCount = harmonicFrames(source.samples.length);
  const spectra = logSpectra();
  const most = Math.min(frameCount, pieceFrames + 2 * LOOK_CONTEXT_FRAMES);
  const logSpectrum = new Float32Array(most * LOG_BINS);
  const stack = new Float32Array(STACK_CHANNELS * most * PITCH_BINS);
  // The frames whose spectra are there: neighbouring pieces share their context.
  let there = { from: 0, to: 0 };
  return async ({ first, count, keepFirst, keepCount }: Piece, salience: Float32Array): Promise<Seen> => {
    const shared = Math.min(Math.max(0, there.to - first), count);
    const at = (first - there.from) * LOG_BINS;
    logSpectrum.copyWithin(0, at, at + shared * LOG_BINS);
    spectra.write(source, first + shared, count - shared, logSpectrum.subarray(shared * LOG_BINS));
    there = { from: first, to: first + count };
    writeStack(logSpectrum, count, stack);
    const got = await network.run({
      harmonics: {
        data: stack.subarray(0, STACK_CHANNELS * count * PITCH_BINS),
        dimensions: [1, STACK_CHANNELS, count, PITCH_BINS],
      },
    });
    const skip = keepFirst - first;
    salience.set(
      got.salience.subarray(skip * PITCH_BINS, (skip + keepCount) * PITCH_BINS),
      keepFirst * PITCH_BINS,
    );
    const values = new Float32Array(SEEN_VALUES * keepCount);
    for (let c = 0; c < SEEN_VALUES; c++) {
      values.set(got.seen.subarray(c * count + skip, c * count + skip + keepCount), c * keepCount);
    }
    return { first: keepFirst, count: keepCount, values };
  };
}

/** What listens to a piece: leans its salience, and writes what is voiced, what sounds and what begins. */
function listener(network: Network, mel: Float32Array, mostFrames: number) {
  // One for all pieces.
  const nearRoom = new Float32Array(SEEN_VALUES * mostFrames);
  const fineRoom = new Float32Array(2 * MEL_BANDS * mostFrames);
  return async (piece: Piece, seen: readonly Seen[], out: MixOutput): Promise<void> => {
    const { first, count } = piece;
    const near = nearRoom.subarray(0, SEEN_VALUES * count);
    for (const part of seen) {
      const from = Math.max(first, part.first);
      const to = Math.min(first + count, part.first + part.count);
      for (let c = 0; c < SEEN_VALUES && from < to; c++) {
        const row = c * part.count - part.first;
        near.set(part.values.subarray(row + from, row + to), c * count + from - first);
      }
    }
    const fine = fineRoom.subarray(0, 2 * MEL_BANDS * count);
    writeFine(mel, first, count, fine);
    const { lean, heads } = await network.run({
      seen: { data: near, dimensions: [1, SEEN_VALUES, count] },
      fine: { data: fine, dimensions: [1, 2 * MEL_BANDS, count] },
    });
    keep(lean, heads, piece, out);
  };
}

/** Adds what leans the salience, and writes the heads, of the frames that are kept of a piece. */
function keep(
  lean: Float32Array,
  heads: Float32Array,
  { first, keepFirst, keepCount }: Piece,
  out: MixOutput,
): void {
  const skip = keepFirst - first;
  for (let k = 0; k < keepCount * PITCH_BINS; k++) {
    out.salience[keepFirst * PITCH_BINS + k] += lean[skip * PITCH_BINS + k];
  }
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

/** Channel `sub * MEL_BANDS + band` of frame t is the band's level at moment 2t + sub; frames side by side. */
function writeFine(mel: Float32Array, first: number, count: number, out: Float32Array): void {
  for (let t = 0; t < count; t++) {
    const from = 2 * (first + t) * MEL_BANDS;
    for (let c = 0; c < 2 * MEL_BANDS; c++) out[c * count + t] = mel[from + c];
  }
}
