/** How likely each pitch is in each frame. */
export interface Salience {
  readonly frameCount: number;
  /** Bins of a frame. */
  readonly bins: number;
  readonly binsPerSemitone: number;
  /** MIDI number of bin 0. */
  readonly lowestMidi: number;
  /** Log probability, but for a constant of the frame, of bin k in frame t at `t * bins + k`. */
  readonly logits: Float32Array;
  /** Probability that a voice has a pitch in the frame. */
  readonly voiced: Float32Array;
}
