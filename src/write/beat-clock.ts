import type { Melody } from '../melody.js';
import { lastAtOrBefore } from './last-at-or-before.js';

/** The beats of a melody as a clock; positions are in beats from the first downbeat, which is 0. */
export interface BeatClock {
  /** Seconds at a position; between beats in proportion, outside the known beats at the pace of the outermost two. */
  readonly secondsAt: (position: number) => number;
  /** Position of a time in seconds. */
  readonly positionAt: (seconds: number) => number;
}

/**
 * The clock of a melody's beats, null while no tempo is known. Where only the tempo is known, the beats are
 * steady from the first downbeat on, or from the start of the recording. The first downbeat is the beat
 * nearest to the time given for it.
 */
export function beatClock({ tempo, meter }: Pick<Melody, 'tempo' | 'meter'>): BeatClock | null {
  if (tempo.bpm === null) return null;
  const downbeat = meter.firstDownbeat ?? tempo.beats[0] ?? 0;
  const { beats } = tempo;
  if (beats.length < 2) {
    const beatSeconds = 60 / tempo.bpm;
    return {
      secondsAt: (position) => downbeat + position * beatSeconds,
      positionAt: (seconds) => (seconds - downbeat) / beatSeconds,
    };
  }
  const zero = beats.reduce(
    (best, beat, index) => (Math.abs(beat - downbeat) < Math.abs(beats[best]! - downbeat) ? index : best),
    0,
  );
  const stretchFrom = (index: number) => Math.min(Math.max(index, 0), beats.length - 2);
  return {
    secondsAt: (position) => {
      const index = stretchFrom(Math.floor(position + zero));
      return beats[index]! + (position + zero - index) * (beats[index + 1]! - beats[index]!);
    },
    positionAt: (seconds) => {
      const index = stretchFrom(lastAtOrBefore(beats, seconds));
      return index - zero + (seconds - beats[index]!) / (beats[index + 1]! - beats[index]!);
    },
  };
}
