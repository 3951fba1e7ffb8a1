/** Solos and mixes whose source is known, by performer in two halves: a to fit, b to report. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { perform } from '../../../fixtures/maker/perform.js';
import type { Random } from '../../../fixtures/maker/random.js';
import { ANALYSIS_RATE } from '../../../src/audio/types.js';
import type { Source } from '../../../src/pitch/types.js';
import { findCases } from '../../evaluate/cases.js';
import { decodeFile } from '../decode-file.js';
import { pinkNoise } from '../noise.js';
import { trainingPlan } from '../performers.js';
import { amplitudeOf } from './room.js';

export type Half = 'a' | 'b';

export interface Known {
  readonly group: string;
  readonly name: string;
  readonly half: Half;
  readonly source: Source;
  /** At ANALYSIS_RATE. */
  readonly samples: Float32Array;
}

/** Of the karaoke clips, in order of name, every twelfth; singers go to the halves by turns. */
const CLIP_STEP = 12;
/** Levels of the voice over the band, decibels. */
const CLIP_LEVELS_DB = [-5, 0, 5];
const BAND_LEVELS_DB = { least: -3, most: 9 };
const ACCOMPANIED_LEVELS_DB = { least: 0, most: 12 };
/** Own recordings, and how many of the rendered voices and bands are put together. */
const OWN_COUNT = 36;
const NOISE_COUNT = 16;
const BAND_COUNT = 32;

const halfOf = (index: number): Half => (index % 2 === 0 ? 'a' : 'b');

/** The voice with the other at a level below it, as long as the voice; the other starts anew where it ends. */
export function together(voice: Float32Array, other: Float32Array, voiceOverOtherDb: number): Float32Array {
  const gain = (amplitudeOf(voice) / amplitudeOf(other)) * 10 ** (-voiceOverOtherDb / 20);
  return voice.map((value, i) => value + gain * other[i % other.length]);
}

/** `singing/ssvd`: halves as for `npm run evaluate`. */
export async function* sightSinging(root: string): AsyncGenerator<Known> {
  for (const known of findCases(root, { groups: ['ssvd'], half: null, name: '' }).cases) {
    const samples = await decodeFile({ path: known.path, channel: null });
    yield { group: 'sight-singing', name: known.name, half: known.half!, source: 'solo', samples };
  }
}

/** `mir1k`: band on the left, voice on the right. */
export async function* karaoke(root: string): AsyncGenerator<Known> {
  const folder = join(root, 'mir1k');
  if (!existsSync(folder)) return;
  const names = readdirSync(folder).filter((name) => name.endsWith('.opus'));
  const singerOf = (name: string) => name.split('_')[0];
  const singers = [...new Set(names.map(singerOf))].sort();
  for (const name of names.sort().filter((_, i) => i % CLIP_STEP === 0)) {
    const half = halfOf(singers.indexOf(singerOf(name)));
    const path = join(folder, name);
    const [band, voice] = [await decodeFile({ path, channel: 0 }), await decodeFile({ path, channel: 1 })];
    yield { group: 'karaoke voice', name, half, source: 'solo', samples: voice };
    for (const db of CLIP_LEVELS_DB) {
      const samples = together(voice, band, db);
      yield { group: `karaoke ${db} dB`, name, half, source: 'mix', samples };
    }
  }
}

/** The fixtures' performers with everything about them random, alone, and each voice over the piano before or after. */
export async function* own(random: Random): AsyncGenerator<Known> {
  const takes = Array.from({ length: OWN_COUNT }, (_, i) => {
    const plan = trainingPlan(i, random);
    return { plan, samples: Float32Array.from(perform(plan).channels[0]) };
  });
  const pianos = takes.filter(({ plan }) => plan.performer.kind === 'piano');
  for (const [i, { plan, samples }] of takes.entries()) {
    // Six kinds by turns: the halves change with every six.
    const half = halfOf(Math.floor(i / 6));
    yield { group: `own ${plan.name.split('-')[0]}`, name: plan.name, half, source: 'solo', samples };
    if (plan.performer.kind === 'piano') continue;
    const piano = pianos[Math.floor(i / 6) % pianos.length].samples;
    const db = random.between(ACCOMPANIED_LEVELS_DB.least, ACCOMPANIED_LEVELS_DB.most);
    const both = together(samples, piano, db);
    yield { group: 'own with piano', name: plan.name, half, source: 'mix', samples: both };
  }
}

/** Noise and nothing else: no melody, which only the solo tracker says. */
export async function* noiseAlone(random: Random): AsyncGenerator<Known> {
  for (let i = 0; i < NOISE_COUNT; i++) {
    const next = i % 4 < 2 ? pinkNoise(random) : () => random.gauss();
    const length = Math.round(random.between(0.5, 10) * ANALYSIS_RATE);
    const samples = Float32Array.from({ length }, () => 0.05 * next());
    yield { group: 'noise alone', name: `noise ${i}`, half: halfOf(i), source: 'solo', samples };
  }
}

/** Folders of rendered voices and bands, `NAME.wav`: number i of one with number i of the other. */
export async function* rendered(voices: string, bands: string, random: Random): AsyncGenerator<Known> {
  const waves = (folder: string) =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.wav'))
      .sort();
  const [voiceNames, bandNames] = [waves(voices), waves(bands)];
  for (let i = 0; i < Math.min(BAND_COUNT, voiceNames.length, bandNames.length); i++) {
    const voice = await decodeFile({ path: join(voices, voiceNames[i]), channel: null });
    const band = await decodeFile({ path: join(bands, bandNames[i]), channel: null });
    const samples = together(voice, band, random.between(BAND_LEVELS_DB.least, BAND_LEVELS_DB.most));
    yield { group: 'rendered band', name: voiceNames[i], half: halfOf(i), source: 'mix', samples };
  }
}
