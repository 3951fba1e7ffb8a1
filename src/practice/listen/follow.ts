/** A line to be played, followed note by note while somebody plays or sings it. */
import type { LiveEvent } from './live-notes.js';

/** A note of the line. */
export interface TargetNote {
  /** Its number in the melody, from 1. */
  readonly number: number;
  readonly midi: number;
}

/** What to do about what was heard last. */
export interface Advice {
  /** The note that is waited for; null once the line is done. */
  readonly next: TargetNote | null;
  /** Whether what was heard is that note, and else which way it lies. */
  readonly move: 'right' | 'higher' | 'lower';
  /** By how many keys, white and black ones; 0 where it is right. */
  readonly keys: number;
  /** The note was played, and the one after it is waited for from now on. */
  readonly movedOn: boolean;
}

export interface Follower {
  readonly next: TargetNote | null;
  /** Advice on an event; null where nothing is to be said: the line is done, or a note ended that was not the right one. */
  push(event: LiveEvent): Advice | null;
}

/** A right key counts once it was held this long: a voice that only slides through it does not play it. */
const LEAST_HELD_SECONDS = 0.1;
const OCTAVE = 12;

/**
 * @param anyOctave whether a note counts in every octave: people hum where their voice lies. Then the nearest way is told,
 *   at most six keys.
 */
export function createFollower(line: readonly TargetNote[], anyOctave: boolean): Follower {
  let at = 0;
  /** When the right key that sounds now was begun; null while another or none sounds, and for one that has counted. */
  let rightSince: number | null = null;
  const away = (midi: number): number => {
    const keys = line[at]!.midi - midi;
    if (!anyOctave) return keys;
    const folded = ((keys % OCTAVE) + OCTAVE) % OCTAVE;
    return folded > OCTAVE / 2 ? folded - OCTAVE : folded;
  };
  const moveOn = (): Advice => {
    rightSince = null;
    at++;
    return { next: line[at] ?? null, move: 'right', keys: 0, movedOn: true };
  };
  return {
    get next() {
      return line[at] ?? null;
    },
    push(event) {
      if (at >= line.length) return null;
      const wasRight = rightSince !== null && event.seconds - rightSince >= LEAST_HELD_SECONDS;
      if (event.event === 'end') {
        if (wasRight) return moveOn();
        rightSince = null;
        return null;
      }
      if (event.event === 'note') {
        // The key before was right and long enough, though no word came between: it counts, and this one is judged by the note after it.
        const movedOn = wasRight ? moveOn() : null;
        if (movedOn !== null && movedOn.next === null) return movedOn;
        const keys = away(event.midi);
        rightSince = keys === 0 ? event.seconds : null;
        return { ...advice(keys), next: line[at]!, movedOn: movedOn !== null };
      }
      if (rightSince !== null) return moveOn();
      const keys = away(event.midi);
      // A held key that has counted already says nothing about the note after it, unless that is another key.
      return keys === 0 ? null : { ...advice(keys), next: line[at]!, movedOn: false };
    },
  };
}

function advice(keys: number): Pick<Advice, 'move' | 'keys'> {
  return { move: keys === 0 ? 'right' : keys > 0 ? 'higher' : 'lower', keys: Math.abs(keys) };
}
