import { expect, test } from 'vitest';
import { boundaryCandidates } from '../../src/notes/boundaries.js';
import { gliding, swinging, trackOf } from './tracks.js';

const rest = { frames: 20, pitch: null };

test('every peak of the onset evidence is a candidate, also within a held pitch', () => {
  const track = trackOf([
    rest,
    { frames: 20, pitch: 60 },
    { frames: 20, pitch: 60, onset: 0.3 },
    { frames: 20, pitch: 64, onset: 0.6 },
  ]);
  expect(boundaryCandidates(track)).toEqual([20, 40, 60]);
});

test('a note that sounds without a peak near starts a candidate, one with a peak near no second one', () => {
  const unmarked = trackOf([rest, { frames: 20, pitch: 60, onset: 0 }]);
  expect(boundaryCandidates(unmarked)).toEqual([20]);
  // Sounding from frame 20, its peak two frames later.
  const late = trackOf([rest, { frames: 2, pitch: 60, onset: 0 }, { frames: 20, pitch: 60 }]);
  expect(boundaryCandidates(late)).toEqual([22]);
});

test('of two peaks 20 ms apart the higher one is kept', () => {
  const track = trackOf([{ frames: 40, pitch: null }]);
  track.onset[20] = 0.5;
  track.onset[21] = 0.2;
  track.onset[22] = 0.8;
  expect(boundaryCandidates(track)).toEqual([22]);
});

test('a plateau is one candidate, at its last frame', () => {
  const track = trackOf([{ frames: 40, pitch: null }]);
  track.onset.fill(0.6, 10, 14);
  expect(boundaryCandidates(track)).toEqual([13]);
});

test('no evidence and no sound: no candidate', () => {
  expect(boundaryCandidates(trackOf([{ frames: 40, pitch: null }]))).toEqual([]);
});

test('a glide to another key is a candidate although nothing marks an onset, a vibrato is not', () => {
  const glide = trackOf([
    rest,
    { frames: 40, pitch: 60 },
    { frames: 8, pitch: gliding(60, 65, 8), onset: 0 },
    { frames: 40, pitch: 65, onset: 0 },
  ]);
  const found = boundaryCandidates(glide);
  expect(found).toHaveLength(2);
  expect(Math.abs(found[1]! - 64)).toBeLessThanOrEqual(2);
  const vibrato = trackOf([rest, { frames: 100, pitch: swinging(60, 0.35, 5.5) }]);
  expect(boundaryCandidates(vibrato)).toEqual([20]);
});
