/** What the program makes of the recordings that come with it, and of one of them beside a piano. */
import { readFileSync } from 'node:fs';
import { activeRms, addAtLevel } from '../../fixtures/maker/levels.js';
import { renderPiano } from '../../fixtures/maker/piano.js';
import { seededRandom } from '../../fixtures/maker/random.js';
import { decodeRecording } from '../../src/audio/decode.js';
import type { Recording } from '../../src/audio/types.js';
import type { Melody } from '../../src/melody.js';
import { hear } from '../../src/pipeline/hear.js';
import { measure } from '../../src/pipeline/measure.js';
import type { PitchTrack, Source } from '../../src/pitch/types.js';

export interface Sound {
  readonly recording: Recording;
  readonly track: PitchTrack;
  readonly melody: Melody;
}

const FIXTURES = new URL('../../fixtures/', import.meta.url);

/** The recordings of fixtures/ that the figures show. */
export const RECORDED = {
  grace: 'sung-amazing-grace.ogg',
  star: 'hummed-little-star.m4a',
  sharp: 'hummed-sharp.wav',
  low: 'sung-low.wav',
  piano: 'piano-joy.opus',
} as const;

export type SoundName = keyof typeof RECORDED | 'song';

/** Each is heard once, however many figures show it. */
export function createSounds(): (name: SoundName) => Promise<Sound> {
  const heard = new Map<SoundName, Promise<Sound>>();
  return (name) => {
    const known = heard.get(name) ?? (name === 'song' ? songSound() : soloSound(RECORDED[name]));
    heard.set(name, known);
    return known;
  };
}

async function soloSound(file: string): Promise<Sound> {
  return heardAs('solo', await decodeRecording(readFileSync(new URL(file, FIXTURES)), file));
}

async function heardAs(source: Source, recording: Recording): Promise<Sound> {
  const { heard, track } = await hear(recording, { source, lowestMidi: null, highestMidi: null });
  const facts = { ...heard, lineStarts: null, heardAs: { source, why: null }, band: null };
  const beat = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };
  return { recording, track, melody: measure(facts, { key: null, hand: 'medium', beat }) };
}

/** Of the sung fixture: its first downbeat and beat in seconds, and how far it lies from A4 = 440 Hz in cents. */
const DOWNBEAT = 1.2;
const BEAT = 0.6;
const CENTS = -20;
/** Level of the piano beside the voice, decibels. */
const PIANO_DB = -5;
/** A chord a bar, from the bass up: B flat, E flat and F. */
const CHORDS = [
  [34, 53, 58, 62],
  [34, 53, 58, 62],
  [39, 55, 58, 63],
  [34, 53, 58, 62],
  [34, 53, 58, 62],
  [34, 53, 58, 62],
  [29, 53, 57, 60],
];

/** The sung fixture beside a softer piano: bass on the first beat of a bar, chords on the others. */
async function songSound(): Promise<Sound> {
  const { recording } = await createSounds()('grace');
  const { samples, sampleRate } = recording;
  const seconds = samples.length / sampleRate;
  const struck = CHORDS.flatMap(([bass, ...chord], bar) =>
    [[bass!], chord, chord].flatMap((keys, beat) => {
      const start = DOWNBEAT + BEAT * (3 * bar + beat);
      return keys.map((midi) => ({ midi, start, end: start + BEAT, line: 0 }));
    }),
  );
  const voice = Float64Array.from(samples);
  const piano = renderPiano(struck, CENTS, sampleRate, seconds, seededRandom(1)).samples;
  addAtLevel(voice, piano, activeRms(voice), PIANO_DB);
  return heardAs('mix', { ...recording, samples: Float32Array.from(voice, (x) => x / 2), side: null });
}
