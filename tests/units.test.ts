import fc from 'fast-check';
import { expect, test } from 'vitest';
import { amplitudeToDb, dbToAmplitude, hzToMidi, midiToHz } from '../src/units.js';

test('A4 is 440 Hz and MIDI 69 (ISO 16:1975; MIDI 1.0, from memory)', () => {
  expect(midiToHz(69)).toBe(440);
  expect(hzToMidi(440)).toBe(69);
});

// Handbook values of equal temperament at A4 = 440 Hz (common practice, from memory).
test.each([
  [21, 27.5, 'A0, the lowest key of a piano'],
  [60, 261.63, 'C4, middle C'],
  [67, 392.0, 'G4'],
  [108, 4186.01, 'C8, the highest key of a piano'],
])('MIDI %i is %f Hz: %s', (midi, hz) => {
  expect(midiToHz(midi)).toBeCloseTo(hz, 2);
  expect(hzToMidi(hz)).toBeCloseTo(midi, 3);
});

test('an octave is twice the frequency, a cent a hundredth of a semitone', () => {
  expect(midiToHz(81) / midiToHz(69)).toBeCloseTo(2, 12);
  expect(hzToMidi(440 * 2 ** (1 / 1200))).toBeCloseTo(69.01, 10);
});

// 20·log10(2) = 6.0206: the handbook's 6 dB.
test('levels: full scale is 0 dB, twice the amplitude 6.02 dB more, a tenth −20 dB, nothing −Infinity', () => {
  expect(amplitudeToDb(1)).toBe(0);
  expect(amplitudeToDb(2)).toBeCloseTo(6.0206, 4);
  expect(amplitudeToDb(0.1)).toBeCloseTo(-20, 12);
  expect(amplitudeToDb(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(dbToAmplitude(-40)).toBeCloseTo(0.01, 12);
  expect(dbToAmplitude(Number.NEGATIVE_INFINITY)).toBe(0);
});

test('there and back is the same, either way, for every pair', () => {
  const midi = fc.double({ min: -20, max: 150, noNaN: true });
  const hz = fc.double({ min: 1, max: 20_000, noNaN: true });
  const db = fc.double({ min: -120, max: 40, noNaN: true });
  const amplitude = fc.double({ min: 1e-6, max: 100, noNaN: true });
  fc.assert(
    fc.property(midi, hz, db, amplitude, (m, f, d, a) => {
      expect(hzToMidi(midiToHz(m))).toBeCloseTo(m, 9);
      expect(midiToHz(hzToMidi(f)) / f).toBeCloseTo(1, 9);
      expect(amplitudeToDb(dbToAmplitude(d))).toBeCloseTo(d, 9);
      expect(dbToAmplitude(amplitudeToDb(a)) / a).toBeCloseTo(1, 9);
    }),
  );
});
