/** Pitch tracks written by hand, as a good tracker would give them. */
import type { PitchTrack } from '../../src/pitch/types.js';

export const HOP_SECONDS = 0.01;

/** A stretch of a track. */
export interface Part {
  readonly frames: number;
  /** MIDI number, or a function of the frame's number in the part; null for a rest. */
  readonly pitch: number | ((frame: number) => number) | null;
  /** Evidence 0..1 that a note starts at its first frame; 0.9 where nothing is said, none for a rest. */
  readonly onset?: number;
  /** 0..1; 0.97 where nothing is said, 0.02 in a rest. */
  readonly voiced?: number;
  readonly sounding?: number;
}

/** Evidence of an onset away from any. */
const NO_ONSET = 0.002;

/** Parts one after the other, frame 0 centred at 0 s. In rests the pitch stays where it was. */
export function trackOf(parts: readonly Part[]): PitchTrack {
  const frameCount = parts.reduce((sum, p) => sum + p.frames, 0);
  const track = {
    grid: { hopSeconds: HOP_SECONDS, firstCentreSeconds: 0, frameCount },
    pitch: new Float32Array(frameCount).fill(60),
    voiced: new Float32Array(frameCount),
    sounding: new Float32Array(frameCount),
    onset: new Float32Array(frameCount).fill(NO_ONSET),
    levelDb: new Float32Array(frameCount).fill(-20),
  };
  let at = 0;
  for (const { frames, pitch, onset, voiced, sounding } of parts) {
    const rest = pitch === null;
    for (let f = 0; f < frames; f++) {
      const i = at + f;
      track.pitch[i] = rest ? (track.pitch[i - 1] ?? 60) : typeof pitch === 'number' ? pitch : pitch(f);
      track.voiced[i] = voiced ?? (rest ? 0.02 : 0.97);
      track.sounding[i] = sounding ?? (rest ? 0.02 : 0.97);
    }
    if (!rest) {
      const peak = onset ?? 0.9;
      track.onset[at] = Math.max(peak, NO_ONSET);
      // Evidence is a hill, not a spike.
      for (const i of [at - 1, at + 1]) {
        if (i >= 0 && i < frameCount) track.onset[i] = Math.max(track.onset[i]!, peak / 3);
      }
    }
    at += frames;
  }
  return track;
}

/** Sine around a pitch: `depth` semitones to either side, `hz` times a second. */
export function swinging(midi: number, depth: number, hz: number): (frame: number) => number {
  return (frame) => midi + depth * Math.sin(2 * Math.PI * hz * frame * HOP_SECONDS);
}

/** A straight glide over `frames` frames. */
export function gliding(from: number, to: number, frames: number): (frame: number) => number {
  return (frame) => from + ((to - from) * (frame + 0.5)) / frames;
}
