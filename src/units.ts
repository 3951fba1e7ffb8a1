/**
 * The only conversions between units. Conventions of the whole project:
 * times are seconds from the start of the recording, pitch is a MIDI number (69 = A4, fractions allowed),
 * cents are hundredths of an equal-tempered semitone, levels are decibels relative to full scale.
 */

/** Frequency of A4 in hertz (ISO 16:1975). */
const A4_HZ = 440;
/** MIDI number of A4. */
const A4_MIDI = 69;

/** MIDI number = 69 + 12·log2(f / 440). `hz` must be positive. */
export function hzToMidi(hz: number): number {
  return A4_MIDI + 12 * Math.log2(hz / A4_HZ);
}

/** Frequency in hertz = 440·2^((n − 69) / 12). */
export function midiToHz(midi: number): number {
  return A4_HZ * 2 ** ((midi - A4_MIDI) / 12);
}

/** Level of a linear amplitude (1 = full scale) in decibels; 0 gives −Infinity. */
export function amplitudeToDb(amplitude: number): number {
  return 20 * Math.log10(amplitude);
}

/** Linear amplitude of a level in decibels. */
export function dbToAmplitude(db: number): number {
  return 10 ** (db / 20);
}
