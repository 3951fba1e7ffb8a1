import type { MidiEvent } from 'midi-file';
import { InputError } from '../../errors.js';

/** A key held down, in ticks. */
export interface KeyPress {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** The notes of one channel in one track. */
export interface Part {
  /** Name of the track, empty where it has none. */
  readonly name: string;
  /** For people: `track 2 "Voice"`, with the channel where a track has several. */
  readonly title: string;
  /** In order of start, higher keys first where they start together. */
  readonly presses: readonly KeyPress[];
}

/** Channel 10, counted from 0: drums (General MIDI). */
const DRUM_CHANNEL = 9;

/** The parts of a file that hold notes, drums left out. Throws InputError where an event is damaged. */
export function collectParts(tracks: readonly MidiEvent[][], label: string): Part[] {
  return tracks.flatMap((events, track) => {
    const channels = pressesByChannel(events, label);
    const named = events.find((event) => event.type === 'trackName');
    const name = named?.type === 'trackName' ? readText(named.text) : '';
    return [...channels].map(([channel, presses]) => ({
      name,
      title: `track ${track + 1}${name ? ` "${name}"` : ''}${channels.size > 1 ? `, channel ${channel + 1}` : ''}`,
      presses,
    }));
  });
}

/**
 * Pairs each note-on with the next note-off of its key; a key struck again while it sounds ends there, and
 * one that is never let go ends with the track.
 */
function pressesByChannel(events: readonly MidiEvent[], label: string): Map<number, KeyPress[]> {
  const channels = new Map<number, KeyPress[]>();
  const held = new Map<number, number>();
  let tick = 0;
  const release = (channel: number, midi: number) => {
    const start = held.get(channel * 128 + midi);
    if (start === undefined) return;
    held.delete(channel * 128 + midi);
    const presses = channels.get(channel);
    if (presses) presses.push({ start, end: tick, midi });
    else channels.set(channel, [{ start, end: tick, midi }]);
  };
  for (const event of events) {
    tick += event.deltaTime;
    if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
    if (!(event.noteNumber <= 127) || !(event.velocity <= 127) || !Number.isSafeInteger(tick)) {
      throw new InputError(`${label} is a damaged MIDI file: it holds a note that is none; export it again.`);
    }
    if (event.channel === DRUM_CHANNEL) continue;
    release(event.channel, event.noteNumber);
    if (event.type === 'noteOn') held.set(event.channel * 128 + event.noteNumber, tick);
  }
  for (const key of [...held.keys()]) release(Math.floor(key / 128), key % 128);
  for (const presses of channels.values()) presses.sort((a, b) => a.start - b.start || b.midi - a.midi);
  return channels;
}

/** Text of a file is UTF-8 in newer programs and Latin-1 in older ones; the parser gives a character a byte. */
function readText(text: string): string {
  const utf8 = Buffer.from(text, 'latin1').toString('utf8');
  return (utf8.includes('\uFFFD') ? text : utf8).replace(/\p{Cc}+/gu, ' ').trim();
}
