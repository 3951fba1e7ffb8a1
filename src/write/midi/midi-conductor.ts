import midiFile, { type MidiEvent } from 'midi-file';
import type { Melody } from '../../melody.js';
import { tempoUnit } from '../score/musicxml-marks.js';
import type { MidiTime } from './midi-time.js';

/** A key signature as MIDI files hold it. */
export interface MidiKey {
  /** Sharps (positive) or flats (negative), −7..7. */
  readonly fifths: number;
  readonly minor: boolean;
}

/** Bytes of a file before the contents of its first track: header chunk (14), head of the track (8). */
const FILE_START = 22;
/** MIDI clocks in a quarter note, in which a time signature tells the click (SMF 1.0, "Time Signature"). */
const CLOCKS_PER_QUARTER = 24;

/**
 * The contents of the first track: title, key, time signatures, tempos, and markers. These are "section A" and
 * "line 2 (like 1)" where a section or line begins, "first beat" where that is not the start of the file, and
 * "bar 1" where the file's own count of bars would not tell it. The track ends with the last beat.
 *
 * @param title as `midiText` gives it
 */
export function conductorTrack(melody: Melody, time: MidiTime, title: string, key: MidiKey | null): Buffer {
  const clicks = tempoUnit(melody.meter.beatUnit ?? 4, melody.meter.beatsPerBar ?? 4).quarters;
  const events: { tick: number; event: EventContent }[] = [
    ...(key === null
      ? []
      : [{ tick: 0, event: { type: 'keySignature', key: key.fifths, scale: key.minor ? 1 : 0 } as const }]),
    { tick: 0, event: { type: 'trackName', text: title } },
    ...time.signatures.map(({ tick, numerator, denominator }) => ({
      tick,
      event: {
        type: 'timeSignature' as const,
        numerator,
        denominator,
        metronome: clicks * CLOCKS_PER_QUARTER,
        thirtyseconds: 8,
      },
    })),
    ...time.tempos
      .filter(({ microseconds }, index) => microseconds !== time.tempos[index - 1]?.microseconds)
      .map(({ tick, microseconds }) => ({
        tick,
        event: { type: 'setTempo' as const, microsecondsPerBeat: microseconds },
      })),
    ...markers(melody, time).map(({ tick, text }) => ({ tick, event: { type: 'marker' as const, text } })),
  ];
  const end = Math.max(time.lastBeat ?? 0, ...events.map(({ tick }) => tick));
  const sorted = [...events.sort((a, b) => a.tick - b.tick), { tick: end, event: { type: 'endOfTrack' } }];
  const track = sorted.map(
    ({ tick, event }, index) =>
      ({ ...event, meta: true, deltaTime: tick - (sorted[index - 1]?.tick ?? 0) }) as MidiEvent,
  );
  const header = { format: 1, numTracks: 1, ticksPerBeat: time.ticksPerQuarter } as const;
  return Buffer.from(midiFile.writeMidi({ header, tracks: [track] })).subarray(FILE_START);
}

type EventContent =
  | { readonly type: 'trackName' | 'marker'; readonly text: string }
  | { readonly type: 'keySignature'; readonly key: number; readonly scale: 0 | 1 }
  | { readonly type: 'setTempo'; readonly microsecondsPerBeat: number }
  | {
      readonly type: 'timeSignature';
      readonly numerator: number;
      readonly denominator: number;
      readonly metronome: number;
      readonly thirtyseconds: number;
    };

function markers({ lines, sections }: Melody, time: MidiTime): { tick: number; text: string }[] {
  const { firstBeat, numbered, tickAt } = time;
  return [
    ...(firstBeat ? [{ tick: firstBeat, text: 'first beat' }] : []),
    ...(numbered ? [{ tick: numbered.tick, text: `bar ${numbered.bar}` }] : []),
    ...lines.flatMap(({ start, like }, index) => {
      const tick = tickAt(start);
      const section = sections.find(({ first }) => first === index + 1);
      return [
        ...(section ? [{ tick, text: `section ${section.letter}` }] : []),
        { tick, text: `line ${index + 1}${like === null ? '' : ` (like ${like})`}` },
      ];
    }),
  ];
}
