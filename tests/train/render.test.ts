import { describe, expect, test } from 'vitest';
import { perform } from '../../fixtures/maker/perform.js';
import { seededRandom } from '../../fixtures/maker/random.js';
import { performScore } from '../../fixtures/maker/score.js';
import { TUNES } from '../../fixtures/maker/tunes.js';
import { trainingPlan } from './performers.js';
import { soundingPitch } from './sounding-pitch.js';

const plans = (seed: number, count = 36) => {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, index) => trainingPlan(index, random));
};
const scoreOf = (plan: ReturnType<typeof trainingPlan>) =>
  performScore(plan.tune, plan.timing, seededRandom(plan.seed));
const intervals = (midi: readonly number[]) => midi.slice(1).map((m, i) => m - midi[i]);

describe('training recordings', () => {
  test('a third is hummed, a third sung, the rest whistled and played, and a seed gives the same again', () => {
    const kinds = plans(1).map(({ name }) => name.split('-')[0]);
    const count = (kind: string) => kinds.filter((k) => k === kind).length;
    expect(['hummed', 'sung', 'whistled', 'piano'].map(count)).toEqual([12, 12, 6, 6]);
    expect(plans(1)).toEqual(plans(1));
    expect(plans(2)).not.toEqual(plans(1));
  });

  test('melodies last about 20 s, stay where they can be sung, repeat notes and have fast ones', () => {
    const scores = plans(1).map(scoreOf);
    for (const [index, score] of scores.entries()) {
      expect(score.at(-1)!.end).toBeGreaterThan(18);
      expect(score.at(-1)!.end).toBeLessThan(45);
      const voice = index % 6 < 4;
      for (const { midi } of score) {
        expect(midi).toBeGreaterThanOrEqual(38);
        // Soprano high C at most for a voice; 1500 Hz, where the program stops looking, for a whistle.
        expect(midi).toBeLessThanOrEqual(voice ? 84 : 90);
      }
    }
    const notes = scores.flat();
    const repeated = scores.flatMap((s) => intervals(s.map((n) => n.midi))).filter((i) => i === 0).length;
    expect(repeated / notes.length).toBeGreaterThan(0.08);
    expect(notes.filter((n) => n.end - n.start < 0.25).length / notes.length).toBeGreaterThan(0.1);
  });

  test('no melody begins as a fixture tune does', () => {
    const opening = (midi: readonly number[]) => intervals(midi).slice(0, 9).join(' ');
    const timing = {
      beatsPerMinute: 100,
      transpose: 0,
      leadSeconds: 0,
      breathSeconds: 0.1,
      swaySeconds: 0,
    };
    const fixtures = Object.values(TUNES).map((tune) =>
      opening(performScore(tune, timing, seededRandom(1)).map((n) => n.midi)),
    );
    for (const plan of plans(1, 120))
      expect(fixtures).not.toContain(opening(scoreOf(plan).map((n) => n.midi)));
  });

  test('the pitch that is told is the one in the samples, and there is none before the first note', () => {
    const plan = plans(1)[1];
    const { channels, notes } = perform(plan);
    const seconds = channels[0].length / plan.sampleRate;
    const f0Hz = soundingPitch(plan, notes, seconds)!;
    expect(f0Hz.length).toBe(Math.floor(seconds * 100));
    const cents = notes
      .filter((n) => n.end - n.start > 0.3)
      .map((note) => {
        const frame = Math.round((note.start + note.end) * 50);
        const heard = 16000 / period(channels[0], frame * 160, 16000 / f0Hz[frame]);
        return Math.abs(1200 * Math.log2(heard / f0Hz[frame]));
      })
      .sort((x, y) => x - y);
    expect(cents.length).toBeGreaterThan(10);
    expect(cents[Math.floor(cents.length / 2)]).toBeLessThan(4);
    expect(f0Hz.slice(0, 10).every((hz) => hz === 0)).toBe(true);
    expect(soundingPitch(plans(1)[5], [], 1)).toBeNull();
  });
});

/** Samples after which the signal around `centre` repeats best, within a third of `near`: a parabola's top. */
function period(samples: Float64Array, centre: number, near: number): number {
  const likeness = (lag: number) => {
    let product = 0;
    for (let i = -320; i < 320; i++) product += samples[centre + i - lag / 2] * samples[centre + i + lag / 2];
    return product;
  };
  // Even lags only, so that both sides move by whole samples and the middle stays.
  const lags = Array.from({ length: Math.round(near / 3) }, (_, i) => 2 * (Math.round(near / 3) + i));
  const best = lags.reduce((top, lag) => (likeness(lag) > likeness(top) ? lag : top));
  const [a, b, c] = [likeness(best - 2), likeness(best), likeness(best + 2)];
  return best + (a - c) / (a - 2 * b + c);
}
