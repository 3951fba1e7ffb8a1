/** A triangular filter over bins of a spectrum. */
export interface LogBand {
  /** Index of the first bin with a weight. */
  readonly first: number;
  /** Weights from there on, summing to 1. */
  readonly weights: Float64Array;
  /** Hertz of its peak. */
  readonly hz: number;
}

/** Hertz of the lowest filter's foot, A0, the lowest key of a piano. */
const LOWEST_HZ = 27.5;
/** Hertz that no filter reaches beyond: little is above in a recording at 16 kHz. */
const HIGHEST_HZ = 8000;
const BANDS_AN_OCTAVE = 12;
/** Hertz between which bands count as pitches: under it bins are wider than semitones, over it are mostly overtones. */
const PITCH_FROM_HZ = 100;
const PITCH_TO_HZ = 2000;

/**
 * Triangular filters, twelve an octave where the bins are that fine, each reaching from the peak of the one before to
 * that of the one after; where bins are coarser, one filter a bin. At 16 kHz with 1024 samples there are about 70.
 *
 * @param size samples of the transform
 */
export function logBands(size: number, sampleRate: number): LogBand[] {
  const binHz = sampleRate / size;
  const top = Math.min(HIGHEST_HZ, sampleRate / 2);
  const peaks: number[] = [];
  for (let k = 0; ; k++) {
    const hz = LOWEST_HZ * 2 ** (k / BANDS_AN_OCTAVE);
    if (hz > top) break;
    const bin = Math.round(hz / binHz);
    if (bin >= 1 && bin !== peaks.at(-1)) peaks.push(bin);
  }
  return peaks.slice(1, -1).map((peak, i) => {
    const before = peaks[i]!;
    const after = peaks[i + 2]!;
    const weights = Float64Array.from({ length: after - before - 1 }, (_, k) => {
      const bin = before + 1 + k;
      return bin <= peak ? (bin - before) / (peak - before) : (after - bin) / (after - peak);
    });
    const sum = weights.reduce((total, weight) => total + weight, 0);
    return { first: before + 1, weights: weights.map((weight) => weight / sum), hz: peak * binHz };
  });
}

/** Pitch class of a band's peak, 0 for A up to 11; null for a band too low or too high to tell. */
export function pitchClassOf({ hz }: LogBand): number | null {
  if (hz <= PITCH_FROM_HZ || hz >= PITCH_TO_HZ) return null;
  const semitones = Math.round(12 * Math.log2(hz / LOWEST_HZ));
  return ((semitones % 12) + 12) % 12;
}
