declare module 'wav-decoder' {
  interface AudioData {
    sampleRate: number;
    channelData: Float32Array[];
  }
  interface DecodeOptions {
    /** Divides both halves of the range by the same number, so that decoding is exact. */
    symmetric?: boolean;
  }
  const wavDecoder: {
    decode: { sync(buffer: ArrayBuffer, options?: DecodeOptions): AudioData };
  };
  export default wavDecoder;
}
