import type { Salience } from './salience.js';

/** Bins to either side of the path whose mean is the pitch: the foot of the bump that the network was taught, three deviations. */
const REACH_BINS = 4;
/** Neighbouring frames further apart than this, semitones, are two notes: no pitch lies between. */
const LEAP_SEMITONES = 1;

/** Pitch of each frame, a fractional MIDI number: the mean of the bins around the path's, by their probabilities. */
export function meanPitch(salience: Salience, path: Uint16Array): Float32Array {
  const { bins, binsPerSemitone, lowestMidi, logits } = salience;
  const pitch = new Float32Array(path.length);
  for (const [t, bin] of path.entries()) {
    const from = Math.max(0, bin - REACH_BINS);
    const to = Math.min(bins - 1, bin + REACH_BINS);
    let most = Number.NEGATIVE_INFINITY;
    for (let k = from; k <= to; k++) most = Math.max(most, logits[t * bins + k]);
    let sum = 0;
    let weighted = 0;
    for (let k = from; k <= to; k++) {
      const p = Math.exp(logits[t * bins + k] - most);
      sum += p;
      weighted += p * k;
    }
    pitch[t] = lowestMidi + weighted / sum / binsPerSemitone;
  }
  return pitch;
}

/**
 * Twice as many frames: frame 2t is frame t, frame 2t + 1 lies half-way to the next. Across a leap, where there is
 * no half-way, it takes the pitch of the neighbour that is more likely voiced. The last pitch is held.
 *
 * @param voiced of the given frames
 * @param frameCount frames wanted, at most twice those given
 */
export function atHalfFrames(pitch: Float32Array, voiced: Float32Array, frameCount: number): Float32Array {
  return Float32Array.from({ length: frameCount }, (_, u) => {
    const t = u >> 1;
    const here = pitch[t];
    if (u % 2 === 0 || t + 1 >= pitch.length) return here;
    const next = pitch[t + 1];
    if (Math.abs(next - here) <= LEAP_SEMITONES) return (here + next) / 2;
    return voiced[t + 1] > voiced[t] ? next : here;
  });
}
