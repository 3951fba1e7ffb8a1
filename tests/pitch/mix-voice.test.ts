/** The mix tracker with its network, on computed voices over computed bands: neither was in its training. */
import { describe, expect, test } from 'vitest';
import { perform } from '../../fixtures/maker/perform.js';
import type { RecordingPlan } from '../../fixtures/maker/recordings.js';
import { TUNES } from '../../fixtures/maker/tunes.js';
import { pack } from '../../src/dsp/packed.js';
import { trackMix } from '../../src/pitch/mix.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { soundingPitch } from '../train/sounding-pitch.js';
import { band, over } from './band.js';
import { RATE, recordingOf } from './signals.js';

const RANGE = { lowestMidi: 40, highestMidi: 84 };

interface Voice {
  readonly samples: Float32Array;
  /** Hertz every 10 ms, 0 where nothing sounds. */
  readonly hz: readonly number[];
}

/** A singer of the fixtures' maker with a little vibrato. */
function voice(tune: RecordingPlan['tune'], transpose: number, tract: number, seed: number): Voice {
  const plan: RecordingPlan = {
    name: 'sung',
    ending: 'wav',
    tune,
    performer: {
      kind: 'voice',
      style: {
        manner: 'sung',
        tract,
        vibratoSemitones: 0.3,
        scoopChance: 0.3,
        legatoChance: 0.3,
        driftCents: 10,
        tuningCents: 0,
      },
    },
    timing: { beatsPerMinute: 126, transpose, leadSeconds: 0.6, breathSeconds: 0.35, swaySeconds: 0.01 },
    sampleRate: RATE,
    channels: 1,
    noiseDb: -62,
    seed,
  };
  const { channels, notes } = perform(plan);
  const samples = Float32Array.from(channels[0]!);
  return { samples, hz: soundingPitch(plan, notes, samples.length / RATE)! };
}

/** Share of the sung frames whose pitch is within half a semitone (raw pitch accuracy, Poliner et al. 2007). */
function followed({ pitch }: PitchTrack, { hz }: Voice): number {
  const sung = hz.flatMap((f, i) => (f > 0 ? [Math.abs(pitch[i]! - 69 - 12 * Math.log2(f / 440))] : []));
  return sung.filter((away) => away <= 0.5).length / sung.length;
}

const voicedShare = ({ voiced }: PitchTrack) => voiced.filter((p) => p > 0.5).length / voiced.length;
const secondsOf = ({ samples }: Voice) => samples.length / RATE;

const woman = voice(TUNES.clairDeLune, 5, 1.15, 21);
const man = voice(TUNES.lampAtTheGate, -12, 1, 22);

// Measured: 0.99 and more of the sung frames in every case.
describe.each([
  ['a woman', woman],
  ['a man', man],
] as const)('the voice of %s is followed', (_, lead) => {
  test.each([
    ['soft chords', ['chords'], 12],
    ['chords as loud as it', ['chords'], 0],
    ['a band as loud as it', ['chords', 'bass', 'drums'], 0],
  ] as const)('over %s', async (_, parts, db) => {
    const mixture = over(lead.samples, band(secondsOf(lead), parts), db);
    const track = await trackMix(recordingOf(mixture), RANGE);
    expect(followed(track, lead)).toBeGreaterThan(0.96);
    const sung = lead.hz.filter((hz) => hz > 0).length / lead.hz.length;
    expect(Math.abs(voicedShare(track) - sung)).toBeLessThan(0.15);
  });
});

test.each([
  ['chords', ['chords']],
  ['a band', ['chords', 'bass', 'drums']],
] as const)('%s alone is hardly taken for a voice', async (_, parts) => {
  // Measured: 0.14 of the frames over the chords, 0.00 over the band.
  expect(voicedShare(await trackMix(recordingOf(band(6, parts)), RANGE))).toBeLessThan(0.25);
});

test.each([
  ['a woman', 'a man', woman, man],
  ['a man', 'a woman', man, woman],
] as const)('%s in the middle is followed, however loud %s sings hard left', async (_, __, lead, other) => {
  // Left holds both, right the lead alone: the side is what the other adds to their mean, 6 dB over the lead.
  const mixture = over(lead.samples, other.samples, -6);
  const side = mixture.map((value, i) => value - lead.samples[i]!);
  const middle = await trackMix(recordingOf(mixture), { ...RANGE, side: pack(side) });
  expect(followed(middle, lead)).toBeGreaterThan(0.9);
  expect(followed(middle, other)).toBeLessThan(0.2);
  // In mono nothing tells the lead, and the louder one is taken.
  const mono = await trackMix(recordingOf(mixture), RANGE);
  expect(followed(mono, other)).toBeGreaterThan(followed(mono, lead));
});
