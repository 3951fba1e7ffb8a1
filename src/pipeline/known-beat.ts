/** What is known of the beat of notes that were read: what the file says, and what is said beside it. */
import type { BeatsKnown } from '../rhythm/types.js';
import { isSteady } from '../write/steadiness.js';
import type { ReadNotes } from '../write/types.js';

/** What is given wins over what was read. */
export function knownBeat(read: ReadNotes, given: BeatsKnown): BeatsKnown {
  return {
    bpm: given.bpm ?? read.bpm,
    beatsPerBar: given.beatsPerBar ?? read.beatsPerBar,
    beatUnit: given.beatsPerBar === null ? read.beatUnit : given.beatUnit,
    firstDownbeatSeconds: given.firstDownbeatSeconds ?? read.firstDownbeat,
    beatSeconds: beatsKept(read, given),
  };
}

/** The beats that were read, unless what is given makes others of them: a tempo, a beat of another value, a downbeat that moves an even beat. */
function beatsKept({ beats, bpm, beatUnit }: ReadNotes, given: BeatsKnown): readonly number[] | null {
  if (beats === null || given.bpm !== null) return null;
  if (given.beatUnit !== null && given.beatUnit !== (beatUnit ?? 4)) return null;
  return given.firstDownbeatSeconds !== null && bpm !== null && isSteady(beats, bpm) ? null : beats;
}
