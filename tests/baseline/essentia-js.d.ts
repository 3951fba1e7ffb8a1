/** What is used of essentia.js 0.1.3, which declares no types of its own. */
declare module 'essentia.js' {
  /** A vector in WebAssembly memory: it is never freed unless deleted. */
  export interface VectorFloat {
    size(): number;
    delete(): void;
  }

  export interface EssentiaApi {
    arrayToVector(values: Float32Array): VectorFloat;
    vectorToArray(vector: VectorFloat): Float32Array;
    PredominantPitchMelodia(
      signal: VectorFloat,
      binResolution: number,
      filterIterations: number,
      frameSize: number,
      guessUnvoiced: boolean,
      harmonicWeight: number,
      hopSize: number,
      magnitudeCompression: number,
      magnitudeThreshold: number,
      maxFrequency: number,
      minDuration: number,
      minFrequency: number,
      numberHarmonics: number,
      peakDistributionThreshold: number,
      peakFrameThreshold: number,
      pitchContinuity: number,
      referenceFrequency: number,
      sampleRate: number,
      timeContinuity: number,
      voiceVibrato: boolean,
      voicingTolerance: number,
    ): { pitch: VectorFloat; pitchConfidence: VectorFloat };
    /** The signal must be at 44.1 kHz. */
    RhythmExtractor2013(
      signal: VectorFloat,
      maxTempo: number,
      method: 'multifeature' | 'degara',
      minTempo: number,
    ): {
      bpm: number;
      ticks: VectorFloat;
      confidence: number;
      estimates: VectorFloat;
      bpmIntervals: VectorFloat;
    };
    PercivalBpmEstimator(
      signal: VectorFloat,
      frameSize: number,
      frameSizeOSS: number,
      hopSize: number,
      hopSizeOSS: number,
      maxBPM: number,
      minBPM: number,
      sampleRate: number,
    ): { bpm: number };
  }

  const essentia: {
    readonly Essentia: new (wasm: unknown) => EssentiaApi;
    readonly EssentiaWASM: unknown;
  };
  export default essentia;
}
