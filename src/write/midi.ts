// The package's entry is CommonJS: its named exports exist only for the type checker, not at run time.
import tm from '@tonejs/midi';
import type { Melody } from '../melody.js';
import { assemble, type MidiKey, midiText } from './midi-repair.js';

const { Midi } = tm;

/** What the file says about the music apart from the notes. */
export interface MidiOptions {
  /** Name of the melody's track. */
  readonly title: string;
  /** Key signature, null where none is to be written. */
  readonly key: MidiKey | null;
}

/** Tempo written while the melody's is unknown: the standard's own default, so that seconds stay true. */
const DEFAULT_BPM = 120;
/** Slowest tempo that three bytes of microseconds can hold: 60e6 / (2^24 − 1), rounded up. */
const SLOWEST_BPM = 3.6;
/** Ticks in a quarter note at 60 beats a minute and above: a tick is about a millisecond or less. */
const TICKS_PER_QUARTER = 960;
/** Mezzo-forte, 0..127 (common practice): the melody holds no loudness. */
const VELOCITY = 80;
/** Notes that are handed to the library in one piece (midi-repair.ts says why). */
const PIECE_NOTES = 200;

/**
 * The melody as a Standard MIDI File, format 1: a track with tempo, meter, key and a marker at the start of
 * each line ("line 1"), and a track of piano notes. Keys are whole; the tuning of the recording is left out.
 *
 * Starts and ends are rounded to ticks that are never longer than 1.05 ms, so each is right to 0.6 ms. The
 * time signature stands at the first downbeat, where the first bar begins.
 */
export function melodyMidi(melody: Melody, options: MidiOptions): Uint8Array {
  // Tempo in the file counts quarter notes, the melody's counts beats.
  const quarters = 4 / (melody.meter.beatUnit ?? 4);
  const bpm = Math.max((melody.tempo.bpm ?? DEFAULT_BPM) * quarters, SLOWEST_BPM);
  const ticksPerQuarter = TICKS_PER_QUARTER * Math.max(1, Math.ceil(60 / bpm));
  // A file holds whole microseconds a quarter note. Ticks are counted with that number, not with the
  // melody's own tempo, or an hour would drift by some milliseconds.
  const microseconds = Math.round(60e6 / bpm);
  const ticks = (seconds: number) => Math.round((seconds * 1e6 * ticksPerQuarter) / microseconds);
  const title = midiText(options.title);

  const midi = new Midi();
  midi.header.fromJSON({
    name: title,
    ppq: ticksPerQuarter,
    // The library rounds microseconds down: the half makes it the number meant.
    tempos: [{ ticks: 0, bpm: 60e6 / (microseconds + 0.5) }],
    timeSignatures: timeSignature(melody, ticks),
    keySignatures: [],
    meta: melody.lines.map((line, index) => ({
      type: 'marker',
      text: `line ${index + 1}`,
      ticks: ticks(line.start),
    })),
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
    const start = Math.max(free, ticks(note.start));
    free = Math.max(start + 1, ticks(note.end));
    track.addNote({
      midi: note.midi,
      ticks: start - pieceStart,
      durationTicks: free - start,
      velocity: VELOCITY / 127,
    });
  });
  return assemble(midi.toArray(), options.key);
}

function timeSignature(
  melody: Melody,
  ticks: (seconds: number) => number,
): { ticks: number; timeSignature: number[] }[] {
  const { beatsPerBar, beatUnit, firstDownbeat } = melody.meter;
  if (beatsPerBar === null || !Number.isInteger(beatsPerBar)) return [];
  return [
    {
      ticks: Math.max(0, ticks(firstDownbeat ?? 0)),
      timeSignature: [beatsPerBar, beatUnit ?? 4],
    },
  ];
}
