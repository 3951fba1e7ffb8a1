/**
 * Our scores against an independent scorer: mir_eval 0.8.2 (mir_eval.transcription, mir_eval.melody), run once
 * on the lists that the generators below make; its printed scores are typed in. The generators use the linear
 * congruential sequence s → (1664525·s + 1013904223) mod 2³² (Numerical Recipes), so that the same lists were
 * made there in Python.
 */
import { describe, expect, test } from 'vitest';
import { scoreMelody } from '../evaluate/melody-scores.js';
import { type ScoredNote, scoreNotes } from '../evaluate/note-scores.js';

function sequence(seed: number): () => number {
  let state = seed;
  return () => {
    state = (1_664_525 * state + 1_013_904_223) % 2 ** 32;
    return state / 2 ** 32;
  };
}

/** Forty notes, and an estimate that loses some, adds some, and is off in onset, pitch and offset. */
function noteLists(seed: number): { reference: ScoredNote[]; estimate: ScoredNote[] } {
  const next = sequence(seed);
  const reference: ScoredNote[] = [];
  const estimate: ScoredNote[] = [];
  let time = 0;
  for (let i = 0; i < 40; i++) {
    time += 0.1 + 0.5 * next();
    const length = 0.05 + 0.4 * next();
    const pitch = 55 + Math.floor(15 * next());
    reference.push({ start: time, end: time + length, pitch });
    if (next() < 0.85) {
      const start = time + 0.12 * (next() - 0.5);
      const end = Math.max(time + length + 0.2 * (next() - 0.5), start + 0.02);
      estimate.push({ start, end, pitch: pitch + 1.4 * (next() - 0.5) });
    }
    if (next() < 0.2) {
      const start = time + 0.12 * (next() - 0.5);
      const end = start + 0.1 + 0.2 * next();
      estimate.push({ start, end, pitch: pitch + 1.4 * (next() - 0.5) });
    }
    time += length * 0.5;
  }
  return { reference, estimate };
}

/** 300 frames of 5.8 ms, and an estimate of 160 frames of 10 ms, with octaves, fifths and voicing errors. */
function melodies(seed: number) {
  const next = sequence(seed);
  const times = Float64Array.from({ length: 300 }, (_, i) => i * 0.0058);
  const pitch = new Float64Array(300);
  const voiced: boolean[] = [];
  let sounding = false;
  let at = 60;
  for (let i = 0; i < 300; i++) {
    if (next() < 0.05) {
      sounding = !sounding;
      at = 55 + 20 * next();
    }
    at += 0.2 * (next() - 0.5);
    pitch[i] = at;
    voiced.push(sounding);
  }
  const estimateTimes = Float64Array.from({ length: 160 }, (_, i) => 0.004 + i * 0.01);
  const estimateVoiced: boolean[] = [];
  const estimatePitch = estimateTimes.map((time) => {
    const j = Math.min(Math.round(time / 0.0058), 299);
    const base = voiced[j] ? pitch[j]! : 50 + 20 * next();
    const kind = next();
    const moved = base + (kind < 0.1 ? 12 : kind < 0.15 ? 7 : 0) + 1.2 * (next() - 0.5);
    estimateVoiced.push(voiced[j] !== next() < 0.1);
    return moved;
  });
  return {
    reference: { times, pitch, voiced },
    estimate: { times: estimateTimes, pitch: estimatePitch, voiced: estimateVoiced },
  };
}

/** Seed, then precision, recall and F of COn, COnP and COnPOff. */
const NOTE_SCORES: [number, number[][]][] = [
  [
    1,
    [
      [0.575, 0.575, 0.575],
      [0.475, 0.475, 0.475],
      [0.325, 0.325, 0.325],
    ],
  ],
  [
    2,
    [
      [0.769230769231, 0.75, 0.759493670886],
      [0.589743589744, 0.575, 0.582278481013],
      [0.333333333333, 0.325, 0.329113924051],
    ],
  ],
  [
    3,
    [
      [0.804347826087, 0.925, 0.860465116279],
      [0.652173913043, 0.75, 0.697674418605],
      [0.45652173913, 0.525, 0.488372093023],
    ],
  ],
];

/** Seed, then VR, VFA, RPA, RCA and OA. */
const MELODY_SCORES: [number, number[]][] = [
  [11, [0.81045751634, 0.170068027211, 0.758169934641, 0.78431372549, 0.736666666667]],
  [12, [0.89, 0.37, 0.545, 0.57, 0.536666666667]],
  [13, [0.925925925926, 0.139393939394, 0.718518518519, 0.748148148148, 0.773333333333]],
];

describe('scores agree with an independent scorer', () => {
  test.each(NOTE_SCORES)('notes, list %i', (seed, expected) => {
    const { reference, estimate } = noteLists(seed);
    const { con, conp, conpoff } = scoreNotes(reference, estimate);
    const got = [con, conp, conpoff].map((s) => [s.precision, s.recall, s.f]);
    expected.flat().forEach((value, i) => {
      expect(got.flat()[i]).toBeCloseTo(value, 11);
    });
  });

  test.each(MELODY_SCORES)('pitch track, melody %i', (seed, expected) => {
    const { reference, estimate } = melodies(seed);
    const { vr, vfa, rpa, rca, oa } = scoreMelody(reference, estimate);
    [vr, vfa, rpa, rca, oa].forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i]!, 11);
    });
  });
});
