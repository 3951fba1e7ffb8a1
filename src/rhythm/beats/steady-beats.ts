/** Beats at an even pace, from numbers. */
import type { Beats } from '../types.js';

export interface SteadyBeat {
  /** Beats a minute, positive. */
  readonly bpm: number;
  /** Beats a bar, a positive integer. */
  readonly beatsPerBar: number;
  readonly beatUnit: 4 | 8;
  /** Seconds of beat 1 of bar 1. */
  readonly firstDownbeatSeconds: number;
}

/**
 * Whole bars of even beats that hold everything from `fromSeconds` to `untilSeconds`, with a beat after both the
 * end and the first downbeat.
 */
export function steadyBeats(beat: SteadyBeat, untilSeconds: number, fromSeconds = 0): Beats {
  const barSeconds = (60 / beat.bpm) * beat.beatsPerBar;
  const before = Math.max(Math.ceil((beat.firstDownbeatSeconds - fromSeconds) / barSeconds - 1e-9), 0);
  const after = Math.max(Math.ceil((untilSeconds - beat.firstDownbeatSeconds) / barSeconds - 1e-9), 0) + 1;
  const firstDownbeat = before * beat.beatsPerBar;
  const count = (before + after) * beat.beatsPerBar + 1;
  return {
    seconds: Array.from(
      { length: count },
      (_, i) => beat.firstDownbeatSeconds + ((i - firstDownbeat) * 60) / beat.bpm,
    ),
    beatsPerBar: beat.beatsPerBar,
    beatUnit: beat.beatUnit,
    firstDownbeat,
  };
}
