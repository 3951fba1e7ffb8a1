import FFT from 'fft.js';

/**
 * Real Fourier transforms of one fixed size, with their work space, which holds nothing between two calls.
 *
 * The transform itself is the fft.js package (radix 4, double precision).
 */
export interface RealFft {
  /** Number of real samples, a power of two. */
  readonly size: number;
  /**
   * Writes |X[k]|² for k = 0 … size/2 into `power` (length size/2 + 1), where X is the unnormalised transform
   * of `frame` (length `size`).
   */
  powerSpectrum(frame: Float64Array, power: Float64Array): void;
  /** The power spectra of two frames by one complex transform: the first is its real part, the second its imaginary. */
  powerSpectra(
    first: Float64Array,
    second: Float64Array,
    powerOfFirst: Float64Array,
    powerOfSecond: Float64Array,
  ): void;
  /**
   * Writes the circular autocorrelation r[k] = Σ x[n]·x[(n + k) mod size] for k = 0 … size/2 into `out`
   * (length size/2 + 1), from the power spectrum of x.
   */
  autocorrelation(power: Float64Array, out: Float64Array): void;
  /** Writes X[k] for k = 0 … size/2 into `half` (length size + 2): real and imaginary parts by turns. */
  spectrum(frame: Float64Array, half: Float64Array): void;
  /** The way back: writes the real signal of `half` (as `spectrum` gives it) into `frame` (length `size`). */
  inverse(half: Float64Array, frame: Float64Array): void;
}

const made = new Map<number, RealFft>();

/** Transforms of `size` samples, the same for all who ask for them: the engine then makes fast code of them once. */
export function realFft(size: number): RealFft {
  const known = made.get(size) ?? makeRealFft(size);
  made.set(size, known);
  return known;
}

function makeRealFft(size: number): RealFft {
  const fft = new FFT(size);
  const half = size / 2;
  // fft.js is typed for arrays but reads and writes by index only, so typed arrays serve and are faster.
  const spectrum = new Float64Array(2 * size);
  const mirrored = new Float64Array(size);
  const paired = new Float64Array(2 * size);
  return {
    size,
    powerSpectrum(frame, power) {
      fft.realTransform(spectrum, frame);
      for (let k = 0; k <= half; k++) {
        const re = spectrum[2 * k];
        const im = spectrum[2 * k + 1];
        power[k] = re * re + im * im;
      }
    },
    powerSpectra(first, second, powerOfFirst, powerOfSecond) {
      for (let n = 0; n < size; n++) {
        paired[2 * n] = first[n];
        paired[2 * n + 1] = second[n];
      }
      fft.transform(spectrum, paired);
      // The spectrum of a real signal mirrors into its own conjugate, that of an imaginary one into minus that.
      for (let k = 0; k <= half; k++) {
        const mirror = (size - k) % size;
        const re = spectrum[2 * k];
        const im = spectrum[2 * k + 1];
        const mirrorRe = spectrum[2 * mirror];
        const mirrorIm = spectrum[2 * mirror + 1];
        powerOfFirst[k] = ((re + mirrorRe) ** 2 + (im - mirrorIm) ** 2) / 4;
        powerOfSecond[k] = ((re - mirrorRe) ** 2 + (im + mirrorIm) ** 2) / 4;
      }
    },
    autocorrelation(power, out) {
      // The power spectrum is real and even, so its inverse transform is its forward transform over size.
      mirrored[0] = power[0];
      mirrored[half] = power[half];
      for (let k = 1; k < half; k++) {
        mirrored[k] = power[k];
        mirrored[size - k] = power[k];
      }
      fft.realTransform(spectrum, mirrored);
      const scale = 1 / size;
      for (let k = 0; k <= half; k++) out[k] = spectrum[2 * k] * scale;
    },
    spectrum(frame, halfSpectrum) {
      fft.realTransform(spectrum, frame);
      for (let i = 0; i < size + 2; i++) halfSpectrum[i] = spectrum[i];
    },
    inverse(halfSpectrum, frame) {
      for (let i = 0; i < size + 2; i++) spectrum[i] = halfSpectrum[i];
      fft.completeSpectrum(spectrum);
      fft.inverseTransform(paired, spectrum);
      for (let n = 0; n < size; n++) frame[n] = paired[2 * n];
    },
  };
}
