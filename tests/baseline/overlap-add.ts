/** What the phase vocoder is held against: overlap-add of waveforms that fit. */
import { type RealFft, realFft } from '../../src/dsp/fft.js';
import { findAttacks } from '../../src/dsp/stretch/attacks.js';
import { followMap, timeMap } from '../../src/dsp/stretch/time-map.js';
import { hannWindow } from '../../src/dsp/window.js';

/** Frames of 30 ms half overlapped, and 12 ms either way to look for one that fits: a period of 83 Hz. */
const FRAME_SECONDS = 0.03;
const REACH_SECONDS = 0.012;

/**
 * WSOLA (Verhelst & Roelands, ICASSP 1993): each frame is taken from near where the time map says, where it is most like
 * what naturally followed the frame before. Attacks pass at their own speed, by the same map as the program's.
 */
export function stretchByOverlap(samples: Float32Array, sampleRate: number, speed: number): Float32Array {
  const hop = Math.round((FRAME_SECONDS / 2) * sampleRate);
  const size = 2 * hop;
  const reach = Math.round(REACH_SECONDS * sampleRate);
  const window = hannWindow(size);
  const length = Math.round(samples.length / speed);
  const out = new Float64Array(length + 2 * size);
  const kept = { beforeSamples: hop, afterSamples: size };
  const source = followMap(timeMap(samples.length, speed, findAttacks(samples, sampleRate), kept));
  const fitting = fitter(samples, size, reach);
  let previous = -2 * hop;
  for (let f = 0; f * hop < length + hop; f++) {
    const wanted = Math.round(source(f * hop)) - hop;
    const natural = previous + hop;
    const at = f === 0 || natural === wanted ? wanted : fitting(natural, wanted);
    for (let n = 0; n < size; n++) out[f * hop + n]! += window[n]! * (samples[at + n] ?? 0);
    previous = at;
  }
  return Float32Array.from({ length }, (_, n) => out[n + hop]!);
}

/** Finds where, up to `reach` from a wanted sample, a frame of `size` correlates best with the one at another sample. */
function fitter(samples: Float32Array, size: number, reach: number) {
  const fft: RealFft = realFft(2 ** Math.ceil(Math.log2(2 * size + 2 * reach)));
  const frame = new Float64Array(fft.size);
  const near = new Float64Array(fft.size);
  const ofFrame = new Float64Array(fft.size + 2);
  const ofNear = new Float64Array(fft.size + 2);
  return (natural: number, wanted: number): number => {
    frame.fill(0);
    near.fill(0);
    for (let n = 0; n < size; n++) frame[n] = samples[natural + n] ?? 0;
    for (let n = 0; n < size + 2 * reach; n++) near[n] = samples[wanted - reach + n] ?? 0;
    fft.spectrum(frame, ofFrame);
    fft.spectrum(near, ofNear);
    for (let k = 0; k < ofFrame.length; k += 2) {
      const re = ofFrame[k]! * ofNear[k]! + ofFrame[k + 1]! * ofNear[k + 1]!;
      const im = ofFrame[k]! * ofNear[k + 1]! - ofFrame[k + 1]! * ofNear[k]!;
      ofFrame[k] = re;
      ofFrame[k + 1] = im;
    }
    fft.inverse(ofFrame, frame);
    let energy = 0;
    for (let n = 0; n < size; n++) energy += near[n]! ** 2;
    let best = Number.NEGATIVE_INFINITY;
    let at = wanted;
    for (let lag = 0; lag <= 2 * reach; lag++) {
      const likeness = frame[lag]! / Math.sqrt(Math.max(0, energy) + 1e-9);
      if (likeness > best) {
        best = likeness;
        at = wanted - reach + lag;
      }
      energy += (near[lag + size] ?? 0) ** 2 - near[lag]! ** 2;
    }
    return at;
  };
}
