/** The solo tracker, and the notes made of its track, on voice-like tones at known times. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { decodeRecording } from '../../src/audio/decode.js';
import { notesOf } from '../../src/notes/notes-of.js';
import type { HeardNotes } from '../../src/notes/types.js';
import { bestPath } from '../../src/pitch/best-path.js';
import { levelGain } from '../../src/pitch/network/level.js';
import { fineLevels } from '../../src/pitch/network/mel.js';
import type { Network } from '../../src/pitch/network/session.js';
import { soloFrames } from '../../src/pitch/network/solo-frames.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { pinkNoise } from '../train/noise.js';
import { centsAbove, loudAndSoft, recordingOf, type Sung, sing, steady, tone } from './signals.js';

const RANGE = { lowestHz: 55, highestHz: 1500 };
const hear = async (samples: Float32Array): Promise<HeardNotes> =>
  notesOf(await trackSolo(recordingOf(samples), RANGE), samples.length / 16_000);

/** Notes of 450 ms with 150 ms of silence between; the times are no multiples of a frame. */
function tune(midis: readonly number[], from = 0.5037): Sung[] {
  return midis.map((midi, i) => ({ start: from + i * 0.6, end: from + i * 0.6 + 0.45, midi }));
}
const TUNE = tune([60, 62, 64, 65, 67, 64, 60, 67]);
const SECONDS = 6;
const heardTune = await hear(sing(TUNE, SECONDS));
const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;

describe('the track', async () => {
  const track = await trackSolo(recordingOf(sing(TUNE, SECONDS)), RANGE);
  const lasts = (i: number) => TUNE.some((n) => i * 0.01 > n.start + 0.05 && i * 0.01 < n.end - 0.05);
  const silent = (i: number) => TUNE.every((n) => i * 0.01 < n.start - 0.05 || i * 0.01 > n.end + 0.05);
  const frames = Array.from({ length: track.grid.frameCount }, (_, i) => i);

  test('every array has one value a frame, and every probability is one', () => {
    for (const values of [track.pitch, track.voiced, track.sounding, track.onset, track.levelDb]) {
      expect(values).toHaveLength(601);
    }
    for (const values of [track.voiced, track.sounding, track.onset]) {
      expect(values.every((p) => p >= 0 && p <= 1)).toBe(true);
    }
  });

  test('inside notes a pitched voice sounds and a note lasts, in silence neither', () => {
    const inside = frames.filter(lasts);
    const outside = frames.filter(silent);
    expect(inside.length).toBeGreaterThan(250);
    expect(outside.length).toBeGreaterThan(100);
    for (const values of [track.voiced, track.sounding]) {
      expect(mean(inside.map((i) => values[i]!))).toBeGreaterThan(0.8);
      expect(mean(outside.map((i) => values[i]!))).toBeLessThan(0.2);
    }
  });

  test('inside notes the pitch is within 5 cents', () => {
    for (const i of frames.filter(lasts)) {
      const { midi } = TUNE.find((n) => i * 0.01 < n.end)!;
      expect(Math.abs(track.pitch[i]! - midi)).toBeLessThan(0.05);
    }
  });
});

describe('the notes', () => {
  test('each has its key, and no other is heard', () => {
    expect(heardTune.notes.map((n) => n.midi)).toEqual(TUNE.map((n) => n.midi));
    expect(Math.abs(heardTune.tuningCents)).toBeLessThan(2);
  });

  test('each starts within 30 ms of the truth, and their mean is not off by 20 ms', () => {
    const late = heardTune.notes.map((n, i) => n.start - TUNE[i]!.start);
    for (const seconds of late) expect(Math.abs(seconds)).toBeLessThan(0.03);
    expect(Math.abs(mean(late))).toBeLessThan(0.02);
  });

  test('each ends within 60 ms of the truth', () => {
    heardTune.notes.forEach((n, i) => {
      expect(Math.abs(n.end - TUNE[i]!.end)).toBeLessThan(0.06);
    });
  });
});

describe('invariants', () => {
  test.each([0.25, 1.13])('%f s of silence before it move every note by as much', async (by) => {
    const moved = TUNE.map((n) => ({ ...n, start: n.start + by, end: n.end + by }));
    const { notes } = await hear(sing(moved, SECONDS + by));
    expect(notes.map((n) => n.midi)).toEqual(heardTune.notes.map((n) => n.midi));
    notes.forEach((n, i) => {
      // The noise under the tones is another one there: a frame's difference is allowed.
      expect(Math.abs(n.start - heardTune.notes[i]!.start - by)).toBeLessThan(0.0101);
      expect(Math.abs(n.end - heardTune.notes[i]!.end - by)).toBeLessThan(0.0201);
    });
  });

  test.each([-12, -5, 11])('a tune %i semitones higher has keys as much higher', async (k) => {
    const { notes } = await hear(
      sing(
        TUNE.map((n) => ({ ...n, midi: n.midi + k })),
        SECONDS,
      ),
    );
    expect(notes.map((n) => n.midi)).toEqual(TUNE.map((n) => n.midi + k));
  });

  test('a recording 12 dB softer has the same notes', async () => {
    const soft = await hear(sing(TUNE, SECONDS).map((v) => v / 4));
    expect(soft.notes.map((n) => n.midi)).toEqual(heardTune.notes.map((n) => n.midi));
    soft.notes.forEach((n, i) => {
      expect(Math.abs(n.start - heardTune.notes[i]!.start)).toBeLessThan(0.0101);
    });
  });

  test('two recordings one after the other have the notes of both', async () => {
    const first = sing(TUNE, SECONDS);
    const second = sing(tune([72, 71, 69, 67, 65], 0.4), 3.9);
    const both = new Float32Array(first.length + second.length);
    both.set(first);
    both.set(second, first.length);
    const apart = [
      ...heardTune.notes,
      ...(await hear(second)).notes.map((n) => ({ ...n, start: n.start + SECONDS, end: n.end + SECONDS })),
    ];
    const { notes } = await hear(both);
    expect(notes.map((n) => n.midi)).toEqual(apart.map((n) => n.midi));
    expect(notes).toHaveLength(13);
    notes.forEach((n, i) => {
      expect(Math.abs(n.start - apart[i]!.start)).toBeLessThan(0.0101);
    });
  });
});

describe('the same again', () => {
  test('a recording gives the same track each time', async () => {
    const recording = recordingOf(sing(TUNE.slice(0, 3), 2.5));
    const once = await trackSolo(recording, RANGE);
    expect(await trackSolo(recording, RANGE)).toEqual(once);
  });
});

describe('where nobody sings', () => {
  test.each([0, 1, 100, 32_000])(
    '%i samples of silence have a track without sound and no notes',
    async (length) => {
      const track = await trackSolo(recordingOf(new Float32Array(length)), RANGE);
      expect(track.grid.frameCount).toBe(Math.floor(length / 160) + 1);
      expect(track.pitch.every(Number.isNaN)).toBe(true);
      expect(track.voiced.every((p) => p === 0)).toBe(true);
      expect(track.levelDb.every((db) => db === -100)).toBe(true);
      expect(notesOf(track, length / 16_000).notes).toEqual([]);
    },
  );

  test.each([
    ['white', 0.1],
    ['white, faint', 0.001],
    ['pink', 0.02],
  ])('noise alone, %s, has no notes and is hardly ever voiced', async (colour, gain) => {
    const random = seededRandom(4);
    const next = colour === 'pink' ? pinkNoise(random) : () => random.gauss();
    const samples = Float32Array.from({ length: 48_000 }, () => gain * next());
    const track = await trackSolo(recordingOf(samples), RANGE);
    expect(notesOf(track, 3).notes).toEqual([]);
  });
});

describe('a hummed recording', async () => {
  const path = new URL('../../fixtures/hummed-sharp.wav', import.meta.url).pathname;
  const recording = await decodeRecording(readFileSync(path), path);
  const { notes } = JSON.parse(readFileSync(path.replace('.wav', '.truth.json'), 'utf8')) as {
    notes: Sung[];
  };
  const track = await trackSolo(recording, RANGE);
  const frames = Array.from({ length: track.grid.frameCount }, (_, i) => i);
  const within = (seconds: number, edge: number) =>
    notes.find((n) => seconds > n.start + edge && seconds < n.end - edge);

  test('its pitch is that of the keys, 35 cents sharp', () => {
    const errors = frames.flatMap((i) => {
      const note = within(i / 100, 0.1);
      return note === undefined ? [] : [Math.abs(track.pitch[i]! - note.midi - 0.35)];
    });
    expect(errors.length).toBeGreaterThan(500);
    expect(errors.filter((e) => e < 0.5).length / errors.length).toBeGreaterThan(0.98);
  });

  test('it sounds inside its notes and not in the rests', () => {
    const inside = frames.filter((i) => within(i / 100, 0.05));
    const outside = frames.filter((i) => !within(i / 100, -0.1));
    expect(outside.length).toBeGreaterThan(100);
    for (const values of [track.voiced, track.sounding]) {
      expect(inside.filter((i) => values[i]! > 0.5).length / inside.length).toBeGreaterThan(0.95);
      expect(outside.filter((i) => values[i]! < 0.5).length / outside.length).toBeGreaterThan(0.95);
    }
  });

  test('a note starts where the network says so, within 50 ms, and hardly anywhere else', () => {
    const peaks = frames.filter(
      (i) => track.onset[i]! > 0.5 && [-1, 1].every((d) => track.onset[i]! >= (track.onset[i + d] ?? 0)),
    );
    const near = (seconds: number) => peaks.some((i) => Math.abs(i / 100 - seconds) <= 0.05);
    expect(notes.filter((n) => near(n.start)).length / notes.length).toBeGreaterThan(0.7);
    const sure = peaks.filter((i) => notes.some((n) => Math.abs(i / 100 - n.start) <= 0.05));
    expect(sure.length / peaks.length).toBeGreaterThan(0.9);
  });
});

describe('a network given by hand', () => {
  /** Logits that do not depend on what is given. */
  const saying = (voiced: number, sounding: number, onset: number): Network => ({
    run: async ({ frames }) => {
      const count = frames!.dimensions[2]!;
      const heads = Float32Array.from({ length: 3 * count }, (_, k) => [voiced, sounding, onset][k % 3]!);
      return { heads };
    },
  });
  // Half a second of tone between silences: without any period a frame has strength 0.
  const samples = new Float32Array(24_000);
  samples.set(sing([{ start: 0, end: 0.5, midi: 60 }], 0.5), 8000);

  test('its heads are voiced, sounding and onset, as probabilities', async () => {
    // The logistic function: 1 → 0.731, −2 → 0.119, 3 → 0.953.
    const track = await trackSolo(recordingOf(samples), RANGE, saying(1, -2, 3));
    expect(track.voiced[75]).toBeCloseTo(0.7311, 4);
    for (const p of track.sounding) expect(p).toBeCloseTo(0.1192, 4);
    for (const p of track.onset) expect(p).toBeCloseTo(0.9526, 4);
  });

  test('what has no period is unvoiced whatever it says, and keeps its other heads', async () => {
    const { voiced, sounding } = await trackSolo(recordingOf(samples), RANGE, saying(9, 9, 9));
    for (const i of [0, 20, 40, 110, 150]) expect([voiced[i], Math.round(sounding[i]!)]).toEqual([0, 1]);
    for (const i of [60, 75, 90]) expect(voiced[i]).toBeGreaterThan(0.99);
  });
});

describe('a voice that doubles its period for a tenth of a second', () => {
  const { hz, turns } = steady(160);
  const voice = tone({ hz, turns }, 2);
  const creaking = loudAndSoft({ hz, turns }, voice, 0.45);
  const samples = voice.map((v, n) => (n > 15_000 && n < 17_000 ? creaking[n]! : v));

  test('keeps its octave', async () => {
    const { pitch } = await trackSolo(recordingOf(samples), RANGE);
    for (const p of pitch.subarray(4, -4)) expect(Math.abs(centsAbove(p, 160))).toBeLessThan(20);
  });

  test('the network is given the path that knows no register, as it was taught', async () => {
    const given: Float32Array[] = [];
    const network: Network = {
      run: async ({ frames }) => {
        given.push(frames!.data as Float32Array);
        return { heads: new Float32Array(3 * frames!.dimensions[2]!) };
      },
    };
    await trackSolo(recordingOf(samples), RANGE, network);
    const path = bestPath(periodicity(samples, 16_000, RANGE));
    expect(path.pitch.some((p) => centsAbove(p, 160) < -1000)).toBe(true);
    const levels = fineLevels(samples, levelGain(samples), path.pitch.length);
    expect(given).toEqual([soloFrames(levels, path)]);
  });
});
