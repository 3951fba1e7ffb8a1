import { realFft } from '../dsp/fft.js';
import type { FrameGrid } from '../dsp/frame-grid.js';
import { hannWindow } from '../dsp/window.js';

/** Samples of one spectrum: 32 ms at 16 kHz, short enough for a consonant. */
const WINDOW_SAMPLES = 512;
/** Bands between neighbouring edges, hertz: about even steps on the mel scale up to the sibilants. */
const BAND_EDGES_HZ = [60, 190, 340, 520, 740, 1010, 1340, 1740, 2230, 2830, 3560, 4650, 7600];
/** Number of bands. */
export const BAND_COUNT = BAND_EDGES_HZ.length - 1;
/** Levels are not followed below this, decibels relative to full scale. */
export const FLOOR_DB = -100;

/** Levels of every frame of a grid. */
export interface BandLevels {
  /** Level of the whole frame, decibels relative to full scale. */
  readonly levelDb: Float32Array;
  /** Level of band b in frame i at `i * BAND_COUNT + b`, decibels relative to full scale. */
  readonly bandDb: Float32Array;
  /**
   * Level of the loud parts: the mean power where each frame counts by its own power, so that pauses do not
   * lower it. Decibels relative to full scale.
   */
  readonly loudDb: number;
}

/** Levels of the whole signal and of its bands around every frame's centre (Hann window, 32 ms). */
export function bandLevels(samples: Float32Array, sampleRate: number, grid: FrameGrid): BandLevels {
  const window = hannWindow(WINDOW_SAMPLES);
  const windowPower = window.reduce((sum, w) => sum + w * w, 0);
  const fft = realFft(WINDOW_SAMPLES);
  const frame = new Float64Array(WINDOW_SAMPLES);
  const power = new Float64Array(WINDOW_SAMPLES / 2 + 1);
  const edges = BAND_EDGES_HZ.map((hz) => Math.round((hz * WINDOW_SAMPLES) / sampleRate));
  const levelDb = new Float32Array(grid.frameCount);
  const bandDb = new Float32Array(grid.frameCount * BAND_COUNT);
  let sum = 0;
  let weighted = 0;
  for (let i = 0; i < grid.frameCount; i++) {
    const centre = Math.round((grid.firstCentreSeconds + i * grid.hopSeconds) * sampleRate);
    const start = centre - WINDOW_SAMPLES / 2;
    for (let j = 0; j < WINDOW_SAMPLES; j++) {
      const k = start + j;
      frame[j] = k >= 0 && k < samples.length ? samples[k] * window[j] : 0;
    }
    fft.powerSpectrum(frame, power);
    // Parseval: two-sided power over (size · window power) is the mean square of the signal.
    const scale = 2 / (WINDOW_SAMPLES * windowPower);
    let total = 0;
    for (let b = 0; b < BAND_COUNT; b++) {
      let band = 0;
      for (let k = edges[b]; k < edges[b + 1]; k++) band += power[k];
      bandDb[i * BAND_COUNT + b] = powerToDb(band * scale);
      total += band * scale;
    }
    levelDb[i] = powerToDb(total);
    sum += total;
    weighted += total * total;
  }
  return { levelDb, bandDb, loudDb: sum > 0 ? powerToDb(weighted / sum) : FLOOR_DB };
}

function powerToDb(power: number): number {
  return Math.max(FLOOR_DB, 10 * Math.log10(power + 1e-12));
}
