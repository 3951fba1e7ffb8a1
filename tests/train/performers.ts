/** Who performs a training recording and how: the fixtures' performers, with everything about them random. */
import type { Random } from '../../fixtures/maker/random.js';
import type { Performer, RecordingPlan } from '../../fixtures/maker/recordings.js';
import { ANALYSIS_RATE } from '../../src/audio/types.js';
import { randomTune } from './random-tune.js';

/** A third hummed, a third sung, a sixth each whistled and on a piano. */
const KINDS = ['hummed', 'sung', 'hummed', 'sung', 'whistled', 'piano'] as const;
type Kind = (typeof KINDS)[number];

const TUNE_SECONDS = 19;
/** MIDI numbers in which the middle of a melody lies; a melody reaches about 8 semitones from it. */
const MIDDLES: Record<'low' | 'high' | 'whistled' | 'piano', readonly [number, number]> = {
  low: [47, 58],
  high: [58, 69],
  whistled: [76, 81],
  piano: [50, 76],
};

/** Plan number `index`; tempo, key, tuning, room noise and the singer's habits are drawn. */
export function trainingPlan(index: number, random: Random): RecordingPlan {
  const kind = KINDS[index % KINDS.length];
  const beatsPerMinute = random.between(66, 144);
  const high = random.chance(0.5);
  const register = kind === 'piano' || kind === 'whistled' ? kind : high ? 'high' : 'low';
  const [lowest, highest] = MIDDLES[register];
  return {
    name: `${kind}-${String(index).padStart(2, '0')}`,
    ending: 'wav',
    tune: randomTune(TUNE_SECONDS, beatsPerMinute, random),
    performer: performerOf(kind, high, random),
    timing: {
      beatsPerMinute,
      transpose: Math.round(random.between(lowest, highest)) - 60,
      leadSeconds: random.between(0.2, 1),
      breathSeconds: kind === 'piano' ? random.between(0, 0.1) : random.between(0.2, 0.5),
      swaySeconds: random.between(0.005, 0.03),
    },
    sampleRate: ANALYSIS_RATE,
    channels: 1,
    noiseDb: random.between(-68, -46),
    seed: Math.floor(random.between(1, 2 ** 30)),
  };
}

function performerOf(kind: Kind, high: boolean, random: Random): Performer {
  const tuningCents = Math.round(random.between(-50, 50));
  if (kind === 'piano') return { kind, tuningCents: Math.round(tuningCents / 5) };
  if (kind === 'whistled') return { kind: 'whistle', tuningCents };
  return {
    kind: 'voice',
    style: {
      manner: kind,
      tract: high ? random.between(1.08, 1.25) : random.between(0.9, 1.05),
      vibratoSemitones: random.chance(0.3) ? 0 : random.between(0.05, 0.6),
      scoopChance: random.between(0, 0.7),
      legatoChance: random.between(0.1, 0.8),
      driftCents: random.between(5, 40),
      tuningCents,
    },
  };
}
