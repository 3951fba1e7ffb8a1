import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { BAND_COUNT } from '../../src/pitch/bands.js';
import { CONTEXT_SIZE, contextOf } from '../../src/pitch/context.js';
import { activationsFor, forward, type PackedLayer, unpack } from '../../src/pitch/perceptron.js';
import { augment, FRAME_VALUES } from './augment.js';
import { examplesOf, type Part, partsOf } from './dataset.js';
import { withNoise } from './noise.js';
import { OUTPUTS, UNKNOWN } from './targets.js';
import { train } from './train.js';
import { weightsFile } from './weights-file.js';

const sine = (seconds: number, hz: number, gain: number) =>
  Float32Array.from({ length: seconds * 16000 }, (_, i) => gain * Math.sin((2 * Math.PI * hz * i) / 16000));

/** Half a second of tone, half a second of near silence, and so on: what sounds is plain to see. */
function toyPart(): Part {
  const tone = sine(6, 220, 0.5);
  for (let i = 0; i < tone.length; i++) if (Math.floor(i / 8000) % 2 === 1) tone[i] /= 1000;
  const notes = [0, 1, 2, 3, 4, 5].map((start) => ({ start, end: start + 0.5 }));
  const labels = { notes, lateSeconds: 0, voiced: null };
  const random = seededRandom(1);
  return partsOf({ samples: tone, labels, weight: 1, mostFrames: Number.POSITIVE_INFINITY }, random)[0];
}

describe('training', () => {
  const part = toyPart();
  const examples = examplesOf([part]);
  const losses: number[] = [];
  const train1 = (seed: number) =>
    train(examples, { epochs: 60, seed, onEpoch: (_, loss) => void losses.push(loss) });
  const net = train1(1);

  test('the loss falls, and what sounds is told from what does not', () => {
    expect(losses).toHaveLength(60);
    expect(losses.at(-1)).toBeLessThan(losses[0] / 3);
    const context = new Float32Array(CONTEXT_SIZE);
    const soundingAt = (frame: number) => {
      contextOf(part.features.levels, part.features.path, frame, context);
      return forward(net, context, activationsFor(net))[1];
    };
    expect(soundingAt(225)).toBeGreaterThan(0.9);
    expect(soundingAt(275)).toBeLessThan(0.1);
  });

  test('the same seed gives the same file, another seed another', () => {
    const text = weightsFile(net);
    expect(weightsFile(train1(1)) === text).toBe(true);
    expect(weightsFile(train1(2)) === text).toBe(false);
  });

  test('the file holds the network', () => {
    const body = weightsFile(net).split('PackedLayer[] = ')[1].replace(/;\s*$/, '');
    const layers = JSON.parse(
      body
        .replace(/'/g, '"')
        .replace(/(\w+):/g, '"$1":')
        .replace(/,(\s*[}\]])/g, '$1'),
    ) as PackedLayer[];
    expect(layers.map(({ inputs, outputs }) => [inputs, outputs])).toEqual([
      [CONTEXT_SIZE, 32],
      [32, 16],
      [16, OUTPUTS],
    ]);
    expect(unpack(layers)).toEqual(net);
  });

  test('too few examples for one batch are an error', () => {
    const few = examplesOf([{ ...part, frames: part.frames.slice(0, 10) }]);
    expect(() => train(few, { epochs: 1, seed: 1, onEpoch: () => {} })).toThrow('fewer than one batch');
  });
});

describe('examples', () => {
  test('a recording gives two versions, each with its own frames, none twice', () => {
    const labels = { notes: [{ start: 0.2, end: 0.5 }], lateSeconds: 0, voiced: null };
    const recording = { samples: sine(1, 300, 0.3), labels, weight: 0.6, mostFrames: 40 };
    const parts = partsOf(recording, seededRandom(3));
    expect(parts).toHaveLength(2);
    for (const { frames } of parts) expect(new Set(frames).size).toBe(40);
    expect(parts[0].frames).not.toEqual(parts[1].frames);
    expect(parts[0].features.levels.bandDb).not.toEqual(parts[1].features.levels.bandDb);
    expect(parts[0].targets).toEqual(parts[1].targets);
    expect(parts[0].targets[2]).toBe(UNKNOWN);
    const { part, frame } = examplesOf(parts);
    expect([part[0], part[39], part[40], part[79], part.length]).toEqual([0, 0, 1, 1, 80]);
    expect([...frame.slice(40)]).toEqual([...parts[1].frames]);
  });

  test('noise lies 12 to 37 dB under the recording', () => {
    const clean = sine(4, 300, 0.3);
    const random = seededRandom(4);
    const ratios = Array.from({ length: 12 }, () => {
      const noisy = withNoise(clean, random);
      const power = (x: Float32Array) => x.reduce((sum, v) => sum + v * v, 0);
      return 10 * Math.log10(power(clean) / power(noisy.map((v, i) => v - clean[i])));
    });
    expect(Math.min(...ratios)).toBeGreaterThan(11.9);
    expect(Math.max(...ratios)).toBeLessThan(37.1);
    expect(Math.max(...ratios) - Math.min(...ratios)).toBeGreaterThan(10);
  });

  test('augmenting moves all levels of a band alike, and leaves periodicity and pitch alone', () => {
    expect(CONTEXT_SIZE % FRAME_VALUES).toBe(0);
    const before = Float32Array.from({ length: CONTEXT_SIZE }, (_, k) => (k % 7) / -7);
    const after = before.slice();
    augment(after, seededRandom(2));
    const change = after.map((v, k) => v - before[k]);
    for (let k = 0; k < CONTEXT_SIZE; k++) expect(change[k]).toBeCloseTo(change[k % FRAME_VALUES], 5);
    expect([change[BAND_COUNT + 1], change[BAND_COUNT + 2]]).toEqual([0, 0]);
    // A tilt: the lowest and the highest band move apart by as much from the gain, which is the whole level's.
    expect((change[0] + change[BAND_COUNT - 1]) / 2).toBeCloseTo(change[BAND_COUNT], 5);
    expect(Math.abs(change[0] - change[BAND_COUNT])).toBeGreaterThan(0.01);
    const quiet = new Float32Array(CONTEXT_SIZE).fill(-3);
    augment(quiet, seededRandom(2));
    expect(Math.min(...quiet)).toBe(-3);
  });
});
