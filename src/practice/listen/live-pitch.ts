/** Sound as it arrives → the pitch of the last moment, every hundredth of a second. */
import { bestPath } from '../../pitch/best-path.js';
import { MAX_CANDIDATES, type PitchCandidates } from '../../pitch/candidates.js';
import { frameSamplesFor, HOP_SAMPLES, type PeriodicityRange, periodicity } from '../../pitch/periodicity.js';
import { amplitudeToDb } from '../../units.js';

/** What is known of one moment. */
export interface LiveFrame {
  /** Seconds from the start of the sound to the middle of the frame. */
  readonly seconds: number;
  /** Fractional MIDI number; null where nothing repeats. */
  readonly pitch: number | null;
  /** How periodic the frame is, 0..1. */
  readonly strength: number;
  /** Level, decibels to full scale. */
  readonly levelDb: number;
}

export interface LivePitch {
  /** Takes mono samples at `sampleRate`; gives the frames that they complete. */
  push(samples: Float32Array): LiveFrame[];
}

/** Half the length of the low-pass filter that the periodicity is measured behind, and some room. */
const FILTER_SAMPLES = 16;
/** Frames that the path through the candidates remembers: 0.4 s, longer than a consonant and shorter than two notes. */
const REMEMBERED_FRAMES = 40;

/**
 * @param sampleRate hertz, that of recordings (16 kHz)
 * @param range pitches looked for; the lower the lowest, the later a frame comes
 */
export function createLivePitch(sampleRate: number, range: PeriodicityRange): LivePitch {
  // What a frame depends on, behind and ahead of its middle: it comes this much late, 21 ms at 16 kHz from 50 Hz up.
  const reachSamples = frameSamplesFor(sampleRate, range) / 2 + FILTER_SAMPLES;
  let kept: Float32Array = new Float32Array(0);
  /** Sample number of kept[0]. */
  let origin = 0;
  /** Number of the next frame. */
  let next = 0;
  const memory = createMemory(sampleRate);
  return {
    push(samples) {
      kept = joined(kept, samples);
      const lastReady = Math.floor((origin + kept.length - reachSamples) / HOP_SAMPLES);
      if (lastReady < next) return [];
      // The excerpt begins at a frame's middle, so that its frames are those of the whole sound.
      const candidates = periodicity(kept, sampleRate, range);
      const frames: LiveFrame[] = [];
      for (; next <= lastReady; next++) {
        const at = next * HOP_SAMPLES - origin;
        frames.push({
          seconds: (next * HOP_SAMPLES) / sampleRate,
          ...memory.add(candidates, at / HOP_SAMPLES),
          levelDb: levelDb(kept, at - HOP_SAMPLES, at + HOP_SAMPLES),
        });
      }
      const keepFrom = Math.max(0, (next - Math.ceil(reachSamples / HOP_SAMPLES)) * HOP_SAMPLES - origin);
      kept = kept.slice(keepFrom);
      origin += keepFrom;
      return frames;
    },
  };
}

/** The candidates of the last frames, and where the path through them ends. */
function createMemory(sampleRate: number) {
  let count: number[] = [];
  let pitch: number[] = [];
  let strength: number[] = [];
  return {
    add(from: PitchCandidates, frame: number): Pick<LiveFrame, 'pitch' | 'strength'> {
      const own = <T extends Uint8Array | Float32Array>(values: T, width: number) =>
        values.subarray(frame * width, (frame + 1) * width);
      count = [...count, ...own(from.count, 1)].slice(-REMEMBERED_FRAMES);
      pitch = [...pitch, ...own(from.pitch, MAX_CANDIDATES)].slice(-REMEMBERED_FRAMES * MAX_CANDIDATES);
      strength = [...strength, ...own(from.strength, MAX_CANDIDATES)].slice(
        -REMEMBERED_FRAMES * MAX_CANDIDATES,
      );
      const frameCount = count.length;
      const path = bestPath({
        grid: { hopSeconds: HOP_SAMPLES / sampleRate, firstCentreSeconds: 0, frameCount },
        count: Uint8Array.from(count),
        pitch: Float32Array.from(pitch),
        strength: Float32Array.from(strength),
      });
      return count.at(-1) === 0
        ? { pitch: null, strength: 0 }
        : { pitch: path.pitch[frameCount - 1]!, strength: path.strength[frameCount - 1]! };
    },
  };
}

function levelDb(samples: Float32Array, from: number, to: number): number {
  const part = samples.subarray(Math.max(0, from), to);
  const meanSquare = part.reduce((sum, x) => sum + x * x, 0) / Math.max(1, part.length);
  return amplitudeToDb(Math.sqrt(meanSquare));
}

function joined(a: Float32Array, b: Float32Array): Float32Array {
  const both = new Float32Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
