/**
 * The beat F worked out by hand from its definition: M. E. P. Davies, N. Degara & M. D. Plumbley, "Evaluation methods
 * for musical audio beat tracking algorithms", Queen Mary University of London, C4DM-TR-09-06, 2009, section 2.1:
 * a beat is a hit within ±70 ms of an annotation, p = hits / (hits + false positives), r = hits / (hits + false
 * negatives), F = 2pr / (p + r). The first five seconds are left out as in the MIREX audio beat tracking task
 * (mir_eval.beat.trim_beats: beats at 5 s and later stay; from memory).
 */
import { expect, test } from 'vitest';
import { MIREX_SKIPPED_SECONDS, scoreBeats } from '../evaluate/beats/beat-scores.js';

/** Annotated every 0.5 s from 4.0 to 8.0 s: nine beats. */
const ANNOTATED = [4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5, 8];
/**
 * Heard: 4.0 hit; 4.58 80 ms late, miss; 5.03 hit; 5.44 60 ms early, hit; 5.56 the same annotation again, false;
 * 6.07 hit; 6.75 between two, false; 7.0 hit; nothing at 6.5, 7.5, 8.0.
 */
const HEARD = [4, 4.58, 5.03, 5.44, 5.56, 6.07, 6.75, 7];

test('five hits of eight heard and nine annotated: p = 5/8, r = 5/9, F = 10/17', () => {
  const { precision, recall, f } = scoreBeats(ANNOTATED, HEARD);
  expect(precision).toBeCloseTo(5 / 8, 12);
  expect(recall).toBeCloseTo(5 / 9, 12);
  expect(f).toBeCloseTo(10 / 17, 12);
});

test('from 5 s on four hits of six heard and seven annotated: F = 8/13', () => {
  expect(scoreBeats(ANNOTATED, HEARD, MIREX_SKIPPED_SECONDS).f).toBeCloseTo(8 / 13, 12);
});

test('tapping at double the tempo gives 2/3, at half of it 2/3, off the beat 0', () => {
  // p = 1/2, r = 1; p = 1, r = 1/2 (of ten annotations); no hit.
  const beats = Array.from({ length: 10 }, (_, i) => i);
  const double = Array.from({ length: 20 }, (_, i) => i / 2);
  expect(scoreBeats(beats, double).f).toBeCloseTo(2 / 3, 12);
  expect(
    scoreBeats(
      beats,
      beats.filter((b) => b % 2 === 0),
    ).f,
  ).toBeCloseTo(2 / 3, 12);
  expect(
    scoreBeats(
      beats,
      beats.map((b) => b + 0.5),
    ).f,
  ).toBe(0);
});
