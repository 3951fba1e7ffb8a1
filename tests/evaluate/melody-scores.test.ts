import { describe, expect, test } from 'vitest';
import { type MelodyEstimate, type MelodyReference, resample, scoreMelody } from './melody-scores.js';

/** Frames every 10 ms from 0; null is unvoiced (reference), and a pair is [pitch, voiced] (estimate). */
function reference(pitch: (number | null)[]): MelodyReference {
  return {
    times: Float64Array.from(pitch, (_, i) => i * 0.01),
    pitch: Float64Array.from(pitch, (p) => p ?? 0),
    voiced: pitch.map((p) => p !== null),
  };
}

function estimate(frames: [number, boolean][], hop = 0.01, first = 0): MelodyEstimate {
  return {
    times: Float64Array.from(frames, (_, i) => first + i * hop),
    pitch: Float64Array.from(frames, (f) => f[0]),
    voiced: frames.map((f) => f[1]),
  };
}

describe('scoreMelody', () => {
  test('a worked example of ten frames', () => {
    const truth = reference([null, null, 60, 60, 60, 60, 62, 62, null, null]);
    const heard = estimate([
      [60, false], // unvoiced and called so: right
      [60, true], // false alarm
      [60.2, true], // 20 cents: right
      [60.49, true], // 49 cents: right
      [60.5, true], // 50 cents: the limit is not included: pitch wrong
      [72.1, true], // an octave and 10 cents: chroma right only
      [62, false], // right pitch, called unvoiced: counts for RPA, not for OA
      [55, false], // wrong and unvoiced
      [55, true], // false alarm
      [55, false], // right
    ]);
    const s = scoreMelody(truth, heard);
    // Six voiced frames, four unvoiced. VR 4/6; VFA 2/4; RPA: frames 2, 3, 6 = 3/6; RCA: and 5 = 4/6;
    // OA: frames 0, 2, 3, 9 = 4/10.
    expect(s.vr).toBeCloseTo(4 / 6, 12);
    expect(s.vfa).toBeCloseTo(2 / 4, 12);
    expect(s.rpa).toBeCloseTo(3 / 6, 12);
    expect(s.rca).toBeCloseTo(4 / 6, 12);
    expect(s.oa).toBeCloseTo(4 / 10, 12);
  });

  test('the octave is forgiven downwards and twice over too, the fifth is not', () => {
    const truth = reference([60, 60, 60, 60]);
    const s = scoreMelody(
      truth,
      estimate([
        [48.3, true],
        [84, true],
        [67, true],
        [60, true],
      ]),
    );
    expect(s.rpa).toBeCloseTo(1 / 4, 12);
    expect(s.rca).toBeCloseTo(3 / 4, 12);
  });

  test('a track scores 1 against itself, with no false alarm', () => {
    const truth = reference([null, 60, 61, null]);
    const same = estimate([
      [0, false],
      [60, true],
      [61, true],
      [0, false],
    ]);
    expect(scoreMelody(truth, same)).toEqual({ vr: 1, vfa: 0, rpa: 1, rca: 1, oa: 1 });
  });

  test('no frames in the reference score 0; no frames in the estimate are all unvoiced', () => {
    const none = estimate([]);
    expect(scoreMelody(reference([]), none)).toEqual({ vr: 0, vfa: 0, rpa: 0, rca: 0, oa: 0 });
    expect(scoreMelody(reference([null, 60]), none)).toEqual({ vr: 0, vfa: 0, rpa: 0, rca: 0, oa: 0.5 });
  });

  test('with nothing voiced in the reference VR is 1 and RPA 0; with everything voiced VFA is 0', () => {
    const silent = scoreMelody(
      reference([null, null]),
      estimate([
        [60, false],
        [60, true],
      ]),
    );
    expect(silent).toEqual({ vr: 1, vfa: 0.5, rpa: 0, rca: 0, oa: 0.5 });
    expect(scoreMelody(reference([60]), estimate([[60, true]])).vfa).toBe(0);
  });
});

describe('resample', () => {
  test('draws straight lines in pitch and holds the voicing of the frame before', () => {
    const frames = resample(
      estimate(
        [
          [60, true],
          [62, false],
        ],
        0.1,
      ),
      Float64Array.of(0, 0.025, 0.05, 0.1),
    );
    expect(frames.map((f) => f.pitch)).toEqual([60, 60.5, 61, 62]);
    expect(frames.map((f) => f.voiced)).toEqual([true, true, true, false]);
  });

  test('uses the first frame before it begins, holds the last, and has none at the end beyond it', () => {
    const frames = resample(estimate([[60, true]], 0.1, 0.2), Float64Array.of(0, 0.2, 0.3, 0.4));
    expect(frames.map((f) => f.pitch)).toEqual([60, 60, 60, null]);
    expect(frames.map((f) => f.voiced)).toEqual([true, true, true, false]);
  });

  test('takes a frame a hair later as the frame itself', () => {
    // 0.1 + 0.2 is a hair over 0.3 in binary: the frame at 0.1 + 0.2 answers for 0.3.
    const track = { times: [0, 0.1 + 0.2], pitch: [60, 62], voiced: [false, true] };
    expect(resample(track, Float64Array.of(0.3))).toEqual([{ pitch: 62, voiced: true }]);
  });
});
