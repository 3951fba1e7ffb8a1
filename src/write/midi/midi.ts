// The package's entry is CommonJS: its named exports exist only for the type checker, not at run time.
import tm from '@tonejs/midi';
import type { Melody } from '../../melody.js';
import { conductorTrack, type MidiKey } from './midi-conductor.js';
import { assemble, midiText } from './midi-repair.js';
import { midiTime } from './midi-time.js';

const { Midi } = tm;

/** What the file says about the music apart from the notes. */
export interface MidiOptions {
  /** Name of the melody's track. */
  readonly title: string;
  /** Key signature, null where none is to be written. */
  readonly key: MidiKey | null;
}

/** Mezzo-forte, 0..127 (common practice): the melody holds no loudness. */
const VELOCITY = 80;
/** Notes that are handed to the library in one piece (midi-repair.ts says why). */
const PIECE_NOTES = 200;

/**
 * The melody as a Standard MIDI File, format 1: a track of tempos, bars, key and markers (midi-conductor.ts), and
 * one of piano notes. Keys are whole; the tuning of the recording is left out. Notes keep their seconds to a
 * millisecond, and beats are those of the melody to half of one (midi-time.ts).
 */
export function melodyMidi(melody: Melody, options: MidiOptions): Uint8Array {
  const time = midiTime(melody);
  const title = midiText(options.title);
  const midi = new Midi();
  midi.header.fromJSON({
    name: title,
    ppq: time.ticksPerQuarter,
    tempos: [],
    timeSignatures: [],
    keySignatures: [],
    meta: [],
  });
  let track = midi.addTrack();
  track.name = title;
  let free = 0;
  let pieceStart = 0;
  melody.notes.forEach((note, index) => {
    if (index > 0 && index % PIECE_NOTES === 0) {
      track = midi.addTrack();
      pieceStart = free;
    }
    const start = Math.max(free, time.tickAt(note.start));
    free = Math.max(start + 1, time.tickAt(note.end));
    track.addNote({
      midi: note.midi,
      ticks: start - pieceStart,
      durationTicks: free - start,
      velocity: VELOCITY / 127,
    });
  });
  return assemble(midi.toArray(), conductorTrack(melody, time, title, options.key));
}
