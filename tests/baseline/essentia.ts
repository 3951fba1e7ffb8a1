/**
 * The one place where essentia.js 0.1.3 is touched. It is loaded only when asked for (0.25 s, 17 MB), and its
 * traps are shut here:
 *
 * 1. its import adds process-wide handlers of `uncaughtException` (throws again, with 2.5 MB of source in the
 *    message) and `unhandledRejection` (aborts): exactly those are removed, everybody else's stay;
 * 2. its failures are thrown as bare numbers: they become an EssentiaFailure that names the algorithm;
 * 3. a NaN or an infinite sample makes it run for ever: such input is refused before;
 * 4. vectors stay in its memory until deleted: they are deleted here, whatever happens;
 * 5. an empty signal and pure silence make it throw: they are answered here.
 */
import { createRequire } from 'node:module';
import type { EssentiaApi, VectorFloat } from 'essentia.js';

type EssentiaModule = typeof import('essentia.js')['default'];

/** An algorithm of essentia.js gave up; it says no more than a number. */
export class EssentiaFailure extends Error {
  constructor(
    readonly algorithm: string,
    cause: unknown,
  ) {
    super(`essentia.js: ${algorithm} failed (${cause instanceof Error ? cause.message : String(cause)}).`);
    this.name = 'EssentiaFailure';
  }
}

export interface PredominantMelodyOptions {
  /** Samples between frames. */
  readonly hopSamples: number;
  /** Samples in a frame, a power of two. */
  readonly frameSamples: number;
  /** Lowest pitch looked for, in hertz. */
  readonly lowestHz: number;
  /** Highest pitch looked for, in hertz. */
  readonly highestHz: number;
}

export interface PredominantMelody {
  /** Pitch of each frame in hertz, 0 where no melody was found. */
  readonly hz: Float32Array;
  /**
   * Salience of the melody in each frame, proportional to the level of the signal (twice the amplitude gives
   * twice the confidence); negative where the pitch is only a guess, 0 where there is none.
   */
  readonly confidence: Float32Array;
  /** Seconds between frames. */
  readonly hopSeconds: number;
  /**
   * Seconds of the middle of frame 0. It is 0: frame i is centred on sample i·hopSamples (half of frame 0 lies
   * before the signal). Found by experiment, see the test with a chirp: over four settings of rate, frame and
   * hop the mean delay was under 0.7 ms, which is less than one bin of pitch.
   */
  readonly firstCentreSeconds: number;
}

/** Which beats are followed: of five onset functions the ones that agree best, or of one. */
export type BeatMethod = 'multifeature' | 'degara';

/** Tempo and beats; both are none for silence. */
export interface ExtractedBeats {
  /** Beats a minute, null for silence. */
  readonly bpm: number | null;
  /** Seconds, increasing. */
  readonly seconds: readonly number[];
}

/** The algorithms of essentia.js that are used, guarded. */
export interface Essentia {
  /**
   * The melody of a mixture by the contours of its harmonic salience (Salamon & Gómez, IEEE TASLP 20(6), 2012),
   * guessing where no contour stands out.
   *
   * @param samples finite; the number of frames is ⌈length / hopSamples⌉ + 1, none for an empty signal
   * @throws RangeError for samples that are not finite
   * @throws EssentiaFailure where the algorithm gives up
   */
  predominantMelody(
    samples: Float32Array,
    sampleRate: number,
    options: PredominantMelodyOptions,
  ): PredominantMelody;
  /**
   * Beats by RhythmExtractor2013, 40 to 208 a minute: `degara` is Degara et al. (IEEE TASLP 20(1), 2012),
   * `multifeature` is Zapata, Davies & Gómez (IEEE/ACM TASLP 22(4), 2014). The beats are those of its
   * BeatTrackerDegara and BeatTrackerMultiFeature.
   *
   * @param samples finite, at BEATS_RATE
   * @throws RangeError for samples that are not finite
   * @throws EssentiaFailure where the algorithm gives up
   */
  beats(samples: Float32Array, method: BeatMethod): ExtractedBeats;
  /**
   * Beats a minute by Percival & Tzanetakis (IEEE/ACM TASLP 22(12), 2014), 50 to 210; null for silence.
   *
   * @param samples finite, at BEATS_RATE
   * @throws RangeError for samples that are not finite
   * @throws EssentiaFailure where the algorithm gives up
   */
  tempo(samples: Float32Array): number | null;
}

/** The sample rate that the beat trackers want, in hertz. */
export const BEATS_RATE = 44_100;

const HANDLED = ['uncaughtException', 'unhandledRejection'] as const;

/** Below this peak (−200 dB) the squares of a spectrum vanish in single precision: it is silence. */
const SILENCE = 1e-10;

/**
 * Runs `load` and removes the process-wide handlers that it added, and no others. `load` must be synchronous:
 * nobody else can add a handler meanwhile.
 */
export function withoutNewHandlers<T>(load: () => T): T {
  const before = new Map(HANDLED.map((event) => [event, process.rawListeners(event)]));
  try {
    return load();
  } finally {
    for (const event of HANDLED) {
      const kept = [...before.get(event)!];
      for (const listener of process.rawListeners(event)) {
        const index = kept.indexOf(listener);
        if (index >= 0) kept.splice(index, 1);
        else process.removeListener(event, listener as () => void);
      }
    }
  }
}

/** Runs one algorithm, turning whatever it throws into an EssentiaFailure. */
export function callAlgorithm<T>(algorithm: string, call: () => T): T {
  try {
    return call();
  } catch (thrown) {
    throw new EssentiaFailure(algorithm, thrown);
  }
}

let loaded: Essentia | null = null;

/** Loads essentia.js, once a process. */
export async function loadEssentia(): Promise<Essentia> {
  loaded ??= withoutNewHandlers(() => {
    // A synchronous require, not import(): see withoutNewHandlers.
    const module = createRequire(import.meta.url)('essentia.js') as EssentiaModule;
    return guarded(new module.Essentia(module.EssentiaWASM));
  });
  return loaded;
}

function guarded(api: EssentiaApi): Essentia {
  return {
    predominantMelody(samples, sampleRate, options) {
      const hopSeconds = options.hopSamples / sampleRate;
      const none = (frameCount: number): PredominantMelody => ({
        hz: new Float32Array(frameCount),
        confidence: new Float32Array(frameCount),
        hopSeconds,
        firstCentreSeconds: 0,
      });
      if (samples.length === 0) return none(0);
      if (peakOf(samples) < SILENCE) return none(Math.ceil(samples.length / options.hopSamples) + 1);
      const vectors: VectorFloat[] = [];
      try {
        const [hz, confidence] = callAlgorithm('PredominantPitchMelodia', () => {
          const signal = api.arrayToVector(samples);
          vectors.push(signal);
          const { pitch, pitchConfidence } = runMelodia(api, signal, sampleRate, options);
          vectors.push(pitch, pitchConfidence);
          return [api.vectorToArray(pitch), api.vectorToArray(pitchConfidence)];
        });
        return { hz: hz!, confidence: confidence!, hopSeconds, firstCentreSeconds: 0 };
      } finally {
        for (const vector of vectors) vector.delete();
      }
    },
    beats(samples, method) {
      if (samples.length === 0 || peakOf(samples) < SILENCE) return { bpm: null, seconds: [] };
      const vectors: VectorFloat[] = [];
      try {
        return callAlgorithm('RhythmExtractor2013', () => {
          const signal = api.arrayToVector(samples);
          vectors.push(signal);
          const { bpm, ticks, estimates, bpmIntervals } = api.RhythmExtractor2013(signal, 208, method, 40);
          vectors.push(ticks, estimates, bpmIntervals);
          // An empty vector cannot be turned into an array.
          return { bpm, seconds: ticks.size() === 0 ? [] : Array.from(api.vectorToArray(ticks)) };
        });
      } finally {
        for (const vector of vectors) vector.delete();
      }
    },
    tempo(samples) {
      if (samples.length === 0 || peakOf(samples) < SILENCE) return null;
      const vectors: VectorFloat[] = [];
      try {
        return callAlgorithm('PercivalBpmEstimator', () => {
          const signal = api.arrayToVector(samples);
          vectors.push(signal);
          return api.PercivalBpmEstimator(signal, 1024, 2048, 128, 128, 210, 50, BEATS_RATE).bpm;
        });
      } finally {
        for (const vector of vectors) vector.delete();
      }
    },
  };
}

/** The parameters are those of Salamon & Gómez 2012 (the algorithm's own defaults) but for the four options. */
function runMelodia(api: EssentiaApi, signal: VectorFloat, rate: number, options: PredominantMelodyOptions) {
  return api.PredominantPitchMelodia(
    signal,
    10, // width of a pitch bin, cents
    3, // times that octave errors and outliers are looked for
    options.frameSamples,
    true, // guess a pitch where no contour stands out
    0.8, // weight of each next harmonic
    options.hopSamples,
    1, // exponent of the magnitudes
    40, // peaks so many decibels under the highest are dropped
    options.highestHz,
    100, // shortest contour, ms
    options.lowestHz,
    20, // harmonics
    0.9, // peaks kept: standard deviations under the mean salience
    0.9, // peaks kept: share of the frame's highest salience
    27.5625, // fastest change of pitch, cents a ms
    55, // pitch of bin 0, Hz
    rate,
    100, // longest gap in a contour, ms
    false, // vibrato is not required of a voice
    0.2, // contours kept: standard deviations under the mean salience
  );
}

/** Largest magnitude. Throws RangeError for a sample that is not finite. */
function peakOf(samples: Float32Array): number {
  let peak = 0;
  for (let i = 0; i < samples.length; i++) {
    const magnitude = Math.abs(samples[i]!);
    if (!Number.isFinite(magnitude)) {
      throw new RangeError(`Sample ${i} is ${samples[i]}; only finite samples can be analysed.`);
    }
    if (magnitude > peak) peak = magnitude;
  }
  return peak;
}
