import { expect, test } from 'vitest';
import { pitchTrackCsv } from '../../src/write/plot/pitch-track.js';

test('a pitch track is a row a frame: time of its centre, hertz of the best guess, probability of a voice', () => {
  const track = {
    grid: { hopSeconds: 0.01, firstCentreSeconds: 0.0025, frameCount: 4 },
    // A4; middle C, 440·2^(−9/12) = 261.6256 Hz; none at all, written in two ways.
    pitch: Float32Array.of(69, 60, Number.NaN, 0),
    voiced: Float32Array.of(1, 0.0625, 0, 0.5),
    sounding: new Float32Array(4),
    onset: new Float32Array(4),
    levelDb: new Float32Array(4),
  };
  expect(pitchTrackCsv(track)).toBe(
    'seconds,hz,voiced\n0.0025,440.00,1.000\n0.0125,261.63,0.063\n0.0225,0.00,0.000\n0.0325,0.00,0.500\n',
  );
});
