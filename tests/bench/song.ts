/** A song of our own, as long as wanted, for measuring time and memory: a made voice, and a made piano beside it. */
import { activeRms, addAtLevel } from '../../fixtures/maker/levels.js';
import { perform } from '../../fixtures/maker/perform.js';
import { renderPiano } from '../../fixtures/maker/piano.js';
import { seededRandom } from '../../fixtures/maker/random.js';
import { RECORDINGS } from '../../fixtures/maker/recordings.js';
import type { TimedNote } from '../../fixtures/maker/score.js';

export const RATE = 44_100;
/** Who sings, over and over. */
const SINGER = 'sung-joy';
/** Chords in C major (I, IV, V, I), struck every half second for two seconds each; and a bass. */
const ROOTS = [48, 53, 55, 48];
const CHORD_SECONDS = 2;
const STRIKE_SECONDS = 0.5;
const ROUND_SECONDS = ROOTS.length * CHORD_SECONDS;
/** Level of the voice beside the piano; of the bass under it on the left and the chords on the right; in the other ear. */
const VOICE = 0.4;
const NEAR_DB = 3;
const FAR_DB = 12;

function repeated(samples: Float64Array, seconds: number): Float64Array {
  return Float64Array.from({ length: Math.round(seconds * RATE) }, (_, i) => samples[i % samples.length]!);
}

function struck(start: number, midi: number): TimedNote {
  return { start, end: start + STRIKE_SECONDS, midi, line: 0 };
}

function piano(stepsOver: readonly number[]): Float64Array {
  const notes = Array.from({ length: ROUND_SECONDS / STRIKE_SECONDS }, (_, i) => i * STRIKE_SECONDS).flatMap(
    (start) => stepsOver.map((step) => struck(start, ROOTS[Math.floor(start / CHORD_SECONDS)]! + step)),
  );
  return renderPiano(notes, 0, RATE, ROUND_SECONDS, seededRandom(7)).samples;
}

/** The voice alone, one channel at RATE, inside full scale. */
export function soloChannel(seconds: number): Float64Array {
  const plan = RECORDINGS.find(({ name }) => name === SINGER)!;
  return repeated(perform({ ...plan, sampleRate: RATE, channels: 1 }).channels[0]!, seconds);
}

/** Left and right: the voice in the middle, a bass on the left, chords on the right. */
export function mixChannels(seconds: number): [Float64Array, Float64Array] {
  const voice = soloChannel(seconds);
  const bass = repeated(piano([-12]), seconds);
  const chords = repeated(piano([0, 4, 7]), seconds);
  const ear = (bassDb: number, chordsDb: number) => {
    const heard = voice.map((v) => VOICE * v);
    const reference = activeRms(heard);
    addAtLevel(heard, bass, reference, -bassDb);
    addAtLevel(heard, chords, reference, -chordsDb);
    return heard;
  };
  return [ear(NEAR_DB, FAR_DB), ear(FAR_DB, NEAR_DB)];
}
