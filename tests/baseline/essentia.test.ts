/** The traps of essentia.js 0.1.3, each shown on the bare package, and that the guard shuts it. */
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  callAlgorithm,
  type Essentia,
  EssentiaFailure,
  loadEssentia,
  withoutNewHandlers,
} from './essentia.js';

const ROOT = join(import.meta.dirname, '../..');
const RATE = 16_000;
const OPTIONS = { hopSamples: 160, frameSamples: 1024, lowestHz: 80, highestHz: 1000 };

/** Five harmonics of a frequency that may change, so that the pitch is clear. */
function voice(seconds: number, hzAt: (seconds: number) => number): Float32Array {
  let phase = 0;
  return Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => {
    phase += (2 * Math.PI * hzAt(i / RATE)) / RATE;
    return [1, 2, 3, 4, 5].reduce((sum, h) => sum + (0.15 / h) * Math.sin(h * phase + h * h), 0);
  });
}

/** Runs a script of the bare package in a process of its own, killed after `timeout` ms. */
function bare(script: string, timeout = 20_000) {
  const head = "import e from 'essentia.js'; const es = new e.Essentia(e.EssentiaWASM);";
  return spawnSync(process.execPath, ['--input-type=module', '-e', head + script], {
    cwd: ROOT,
    timeout,
    encoding: 'utf8',
  });
}

let essentia: Essentia;
let before: unknown[][] = [];
const handlers = () => [
  process.rawListeners('uncaughtException'),
  process.rawListeners('unhandledRejection'),
];

beforeAll(async () => {
  before = handlers();
  essentia = await loadEssentia();
});

describe('handlers of the whole process', () => {
  test('trap: importing the package adds two', () => {
    const { stdout } = bare(
      "console.log(process.listenerCount('uncaughtException'), process.listenerCount('unhandledRejection'))",
    );
    expect(stdout.trim()).toBe('1 1');
  });

  test('guard: loading leaves the handlers as they were', () => {
    expect(handlers()).toEqual(before);
  });

  test('exactly the new ones are removed, also where the same one is there twice', () => {
    const ours = () => {};
    process.on('uncaughtException', ours);
    try {
      withoutNewHandlers(() => {
        process.on('uncaughtException', ours);
        process.on('unhandledRejection', () => {});
      });
      expect(process.rawListeners('uncaughtException').filter((l) => l === ours)).toHaveLength(1);
      expect(process.rawListeners('unhandledRejection')).toEqual(before[1]);
    } finally {
      process.removeListener('uncaughtException', ours);
    }
  });

  test('they are removed where loading fails, too', () => {
    const load = () => {
      process.on('unhandledRejection', () => {});
      throw new Error('no');
    };
    expect(() => withoutNewHandlers(load)).toThrow('no');
    expect(process.rawListeners('unhandledRejection')).toEqual(before[1]);
  });
});

describe('failures', () => {
  const silence = 'const v = es.arrayToVector(new Float32Array(16000)); es.PredominantPitchMelodia(v)';

  test('trap: silence makes the algorithm throw a number', () => {
    expect(bare(`try { ${silence} } catch (x) { console.log(typeof x) }`).stdout.trim()).toBe('number');
  });

  test('guard: silence has no melody, in as many frames as any other signal', () => {
    const quiet = essentia.predominantMelody(new Float32Array(RATE), RATE, OPTIONS);
    const loud = essentia.predominantMelody(
      voice(1, () => 220),
      RATE,
      OPTIONS,
    );
    expect(quiet.hz).toHaveLength(loud.hz.length);
    expect(quiet.hz.some((f) => f !== 0)).toBe(false);
    expect(essentia.predominantMelody(new Float32Array(0), RATE, OPTIONS).hz).toHaveLength(0);
  });

  test('guard: a failure is an Error that names the algorithm', () => {
    // A hop of no samples is refused by the algorithm itself.
    const run = () =>
      essentia.predominantMelody(
        voice(0.5, () => 220),
        RATE,
        { ...OPTIONS, hopSamples: 0 },
      );
    expect(run).toThrow(EssentiaFailure);
    expect(run).toThrow(/PredominantPitchMelodia failed \(\d+\)/);
    expect(() =>
      callAlgorithm('Any', () => {
        throw 6_079_712;
      }),
    ).toThrow('essentia.js: Any failed (6079712).');
  });

  test('after a failure the next call works', () => {
    const { hz } = essentia.predominantMelody(
      voice(1, () => 220),
      RATE,
      OPTIONS,
    );
    expect(hz[50]).toBeCloseTo(220, 0);
  });
});

describe('samples that are not finite', () => {
  test('trap: one NaN makes the algorithm run for ever (it is stopped after 3 s for 0.1 s of signal)', () => {
    const script =
      'const x = new Float32Array(1600).fill(0.1); x[800] = NaN; es.PredominantPitchMelodia(es.arrayToVector(x));';
    expect(bare(script, 3000).error?.message).toContain('ETIMEDOUT');
    // Without it the same signal is done long before.
    expect(bare(script.replace('NaN', '0.2'), 3000).status).toBe(0);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    'guard: %s is refused',
    (bad) => {
      const samples = voice(0.5, () => 220);
      samples[123] = bad;
      expect(() => essentia.predominantMelody(samples, RATE, OPTIONS)).toThrow(`Sample 123 is ${bad}`);
    },
  );
});

test('memory: vectors are deleted, so that many calls take no more than one (trap: they are never freed)', () => {
  const script = (free: string) =>
    `const x = new Float32Array(160000).fill(0.1); for (let i = 0; i < 60; i++) { const v = es.arrayToVector(x); es.RMS(v); ${free} }
     console.log(e.EssentiaWASM.HEAP8.length / 1e6)`;
  expect(Number(bare(script('')).stdout)).toBeGreaterThan(40);
  expect(Number(bare(script('v.delete();')).stdout)).toBeLessThan(20);
  // Ours: sixteen calls on 1.28 MB each would be 20 MB; a long hop and much silence keep them short.
  const samples = new Float32Array(320_000);
  samples.set(voice(0.2, () => 220));
  const heap = () => createRequire(import.meta.url)('essentia.js').EssentiaWASM.HEAP8.length / 1e6;
  const options = { ...OPTIONS, hopSamples: 1024 };
  essentia.predominantMelody(samples, RATE, options);
  const before = heap();
  for (let i = 0; i < 16; i++) essentia.predominantMelody(samples, RATE, options);
  expect(heap() - before).toBeLessThan(5);
});

describe('predominantMelody', () => {
  test('frame i is centred on sample i·hop: a chirp is found where it is, to a millisecond', () => {
    // Pitch rises by two octaves in six seconds: a pitch f is reached at 6·log2(f / 150) / 2 seconds.
    const chirp = voice(6, (t) => 150 * 2 ** (t / 3));
    for (const [frameSamples, hopSamples] of [
      [1024, 64],
      [2048, 128],
    ] as const) {
      const melody = essentia.predominantMelody(chirp, RATE, { ...OPTIONS, frameSamples, hopSamples });
      const delays = [...melody.hz]
        .map((f, i) => ({ f, at: melody.firstCentreSeconds + i * melody.hopSeconds }))
        .filter(({ f }) => f > 170 && f < 540)
        .map(({ f, at }) => 3 * Math.log2(f / 150) - at);
      expect(delays.length).toBeGreaterThan(300);
      const mean = delays.reduce((sum, d) => sum + d, 0) / delays.length;
      expect(Math.abs(mean)).toBeLessThan(0.001);
    }
  });

  test('the confidence is proportional to the level and the pitch does not depend on it', () => {
    const samples = voice(1, () => 220);
    const loud = essentia.predominantMelody(samples, RATE, OPTIONS);
    const soft = essentia.predominantMelody(
      samples.map((s) => s / 8),
      RATE,
      OPTIONS,
    );
    expect(soft.hz[50]).toBeCloseTo(loud.hz[50]!, 3);
    expect(loud.confidence[50]! / soft.confidence[50]!).toBeCloseTo(8, 1);
  });

  test('the samples are left as they were', () => {
    const samples = voice(0.3, () => 220);
    const copy = samples.slice();
    essentia.predominantMelody(samples, RATE, OPTIONS);
    expect(samples).toEqual(copy);
  });
});

describe('beats', () => {
  const RATE_OF_BEATS = 44_100;
  const strokes = Float32Array.from({ length: 15 * RATE_OF_BEATS }, (_, i) => {
    const since = i % (RATE_OF_BEATS / 2);
    return 0.5 * Math.exp(-since / 2000) * Math.sin(since / 10);
  });

  test.each(['multifeature', 'degara'] as const)('%s finds 120 strokes a minute', (method) => {
    const { bpm, seconds } = essentia.beats(strokes, method);
    expect(Math.abs(bpm! - 120)).toBeLessThan(2);
    expect(seconds.length).toBeGreaterThan(24);
  });

  test('the tempo alone', () => {
    expect(Math.abs(essentia.tempo(strokes)! - 120)).toBeLessThan(3);
  });

  test('guard: silence has no beats, and what is not finite is refused', () => {
    const silence = new Float32Array(RATE_OF_BEATS);
    expect(essentia.beats(silence, 'degara')).toEqual({ bpm: null, seconds: [] });
    expect(essentia.tempo(silence)).toBeNull();
    expect(() => essentia.beats(silence.fill(Number.NaN), 'degara')).toThrow(RangeError);
    expect(() => essentia.tempo(silence)).toThrow(RangeError);
  });
});
