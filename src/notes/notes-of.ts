import { frameToSeconds } from '../dsp/frame-grid.js';
import type { PitchTrack } from '../pitch/types.js';
import { confidenceOf } from './confidence.js';
import { chooseKeys } from './keys.js';
import { type NotePitch, notePitch } from './note-pitch.js';
import { type Segment, segment } from './segment.js';
import { atPitchCrossings } from './transition.js';
import type { HeardNotes, Note } from './types.js';

/** Below this confidence, or with a runner-up this likely, the next likeliest key is named. */
const DOUBTFUL = 0.7;
const LIKELY_OTHER = 0.2;
/** The keys of a MIDI file. */
const LOWEST_KEY = 0;
const HIGHEST_KEY = 127;

/**
 * The notes of a pitch track: cut, each given its pitch, the tuning of the whole taken out, each given a key
 * and a confidence. No notes where the track holds none.
 *
 * @param seconds length of the recording
 */
export function notesOf(track: PitchTrack, seconds: number): HeardNotes {
  const found = atPitchCrossings(track, segment(track)).flatMap((s) => {
    const pitch = notePitch(track, s);
    return pitch ? [{ ...pitch, segment: s, ...spanOf(track, s, seconds) }] : [];
  });
  const { keys, tuningCents } = chooseKeys(found);
  const notes = found.flatMap((note, i): Note[] => {
    const key = keys[i];
    if (key.midi < LOWEST_KEY || key.midi > HIGHEST_KEY) return [];
    const confidence = confidenceOf(evidence(track, note, key.probability));
    const doubtful = confidence < DOUBTFUL || key.otherProbability > LIKELY_OTHER;
    return [
      {
        start: note.start,
        end: note.end,
        midi: key.midi,
        pitch: note.pitch,
        confidence,
        other: doubtful ? key.other : null,
      },
    ];
  });
  return { notes, tuningCents, seconds };
}

function spanOf(track: PitchTrack, { first, end }: Segment, seconds: number) {
  return {
    start: frameToSeconds(track.grid, first),
    end: Math.min(frameToSeconds(track.grid, end), seconds),
  };
}

function evidence(
  track: PitchTrack,
  note: NotePitch & { segment: Segment; start: number; end: number },
  keyProbability: number,
) {
  const { first, end } = note.segment;
  let sounding = 0;
  for (let i = first; i < end; i++) sounding += track.sounding[i];
  return {
    keyProbability,
    onset: track.onset[first],
    sounding: sounding / (end - first),
    seconds: note.end - note.start,
    spreadSemitones: note.spreadSemitones,
  };
}
