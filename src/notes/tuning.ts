/**
 * How far a set of pitches lies above the keys of a piano at A4 = 440 Hz, in semitones, −0.5..0.5: the
 * direction of the sum of unit vectors, one turn a semitone, each as long as its weight. A circular mean does
 * not care on which side of the half semitone a note falls. 0 for no notes.
 *
 * @param pitches fractional MIDI numbers
 * @param weights one a pitch, e.g. seconds
 */
export function tuningOf(pitches: readonly number[], weights: readonly number[]): number {
  let x = 0;
  let y = 0;
  pitches.forEach((p, i) => {
    x += weights[i] * Math.cos(2 * Math.PI * p);
    y += weights[i] * Math.sin(2 * Math.PI * p);
  });
  return x === 0 && y === 0 ? 0 : Math.atan2(y, x) / (2 * Math.PI);
}
