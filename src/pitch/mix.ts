import type { Recording } from '../audio/types.js';
import { type PackedSamples, packedPart } from '../dsp/packed.js';
import { UsageError } from '../errors.js';
import { pitchFromPeaks } from './harmonic-peaks.js';
import { type HarmonicSource, HOP_SAMPLES, PITCH_BINS } from './network/harmonic.js';
import { levelGain, NETWORK_RATE } from './network/level.js';
import { FINE_HOP_SAMPLES, fineLevels } from './network/mel.js';
import { type MixNetwork, type MixOutput, runMixNetwork, SHORT_PIECE_FRAMES } from './network/mix-network.js';
import { loadNetwork } from './network/session.js';
import { logistic } from './network/units.js';
import type { Salience } from './salience.js';
import { saliencePath } from './salience-path.js';
import { atHalfFrames, meanPitch } from './salience-pitch.js';
import { STRETCH_SECONDS, stretchesOf, trackInStretches } from './stretches.js';
import type { PitchTrack } from './types.js';

/** Pitch of the network's lowest bin (A1), MIDI number, and its steps. */
const LOWEST_MIDI = 33;
const BINS_PER_SEMITONE = 5;
/** Levels are not followed below this, decibels relative to full scale. */
const FLOOR_DB = -100;

export interface MixOptions {
  /** Lowest pitch looked for, MIDI number. */
  readonly lowestMidi: number;
  /** Highest pitch looked for, MIDI number. */
  readonly highestMidi: number;
  /**
   * Half the difference of left and right, as long as the samples, where the recording has a stereo image: what
   * is loud there is not the singer. Null or absent where there is none.
   */
  readonly side?: PackedSamples | null;
  /** Is told, on the way, when the side before a sample is needed no more. */
  readonly sideHeard?: (before: number) => void;
}

/**
 * Tracks the singer of a song with a band.
 *
 * 1. A network (network/) looks at 1.5 s around each frame and says how likely each pitch is the singer's, and
 *    how likely they sing.
 * 2. The best path through the pitches is taken, its pitch between the bins, and the spectrum asked for the cents.
 *
 * @param stretchSeconds seconds tracked at once (stretches.ts)
 * @returns frames of 10 ms, frame 0 centred on the first sample; the level is that of the whole mixture
 * @throws UsageError where the networks cannot run, or know no pitch in the range
 */
export async function trackMix(
  recording: Recording,
  options: MixOptions,
  stretchSeconds = STRETCH_SECONDS,
): Promise<PitchTrack> {
  const { samples, sampleRate } = recording;
  if (sampleRate !== NETWORK_RATE) {
    throw new RangeError(`The networks know recordings at ${NETWORK_RATE} Hz; this one has ${sampleRate}.`);
  }
  const bins = allowedBins(options);
  const network = { look: await loadNetwork('mix-look'), listen: await loadNetwork('mix-listen') };
  const gain = levelGain(samples);
  const stretches = stretchesOf(samples.length, FINE_HOP_SAMPLES, sampleRate, stretchSeconds);
  const pieceFrames = stretches.length > 1 ? SHORT_PIECE_FRAMES : undefined;
  const track = await trackInStretches(stretches, (from, to) => {
    options.sideHeard?.(from);
    const side = options.side ? packedPart(options.side, from, to) : null;
    return trackStretch(network, { samples: samples.subarray(from, to), side, gain }, bins, pieceFrames);
  });
  options.sideHeard?.(samples.length);
  return track;
}

async function trackStretch(
  network: MixNetwork,
  source: HarmonicSource,
  { from, to }: { readonly from: number; readonly to: number },
  pieceFrames?: number,
): Promise<PitchTrack> {
  const { samples, gain } = source;
  const frameCount = Math.floor(samples.length / FINE_HOP_SAMPLES) + 1;
  // One more than there are where their number is odd: the network's last frame has room for it.
  const levels = fineLevels(samples, gain, frameCount + (frameCount % 2));
  const heard = await runMixNetwork(network, source, levels.mel, pieceFrames);
  const salience = salienceOf(heard);
  const rough = meanPitch(salience, saliencePath(salience, from, to));
  const pitch = pitchFromPeaks(samples, NETWORK_RATE, HOP_SAMPLES, rough, salience.voiced);
  const gainDb = 20 * Math.log10(gain);
  return {
    grid: { hopSeconds: FINE_HOP_SAMPLES / NETWORK_RATE, firstCentreSeconds: 0, frameCount },
    pitch: atHalfFrames(pitch, salience.voiced, frameCount),
    voiced: heard.voiced.subarray(0, frameCount).map(logistic),
    sounding: heard.sounding.subarray(0, frameCount).map(logistic),
    onset: heard.onset.subarray(0, frameCount).map(logistic),
    levelDb: levels.wholeDb.subarray(0, frameCount).map((db) => Math.max(db - gainDb, FLOOR_DB)),
  };
}

/** Bins whose pitch lies in the range. */
function allowedBins({ lowestMidi, highestMidi }: MixOptions): { from: number; to: number } {
  const from = Math.max(0, Math.ceil((lowestMidi - LOWEST_MIDI) * BINS_PER_SEMITONE - 1e-9));
  const to = Math.min(PITCH_BINS - 1, Math.floor((highestMidi - LOWEST_MIDI) * BINS_PER_SEMITONE + 1e-9));
  if (from > to) {
    throw new UsageError(
      'the singer of a mix is looked for from A1 (55 Hz) to G#6 (1.7 kHz): choose a lowest and a highest note in there.',
    );
  }
  return { from, to };
}

function salienceOf({ frameCount, salience, voiced }: MixOutput): Salience {
  return {
    frameCount,
    bins: PITCH_BINS,
    binsPerSemitone: BINS_PER_SEMITONE,
    lowestMidi: LOWEST_MIDI,
    logits: salience,
    voiced: Float32Array.from(
      { length: frameCount },
      (_, t) => (logistic(voiced[2 * t]) + logistic(voiced[2 * t + 1])) / 2,
    ),
  };
}
