/** Option values in the words of music theory; apart from the other values because the tables take time to load. */
import { parseNoteName, parseTonic } from '../theory/pitch-names.js';
import type { Key } from '../theory/types.js';
import { hzToMidi } from '../units.js';
import { wrongValue } from './values.js';

export function parseKey(option: string, text: string): Key {
  const key = parseTonic(text);
  if (key === null) throw wrongValue(option, text, 'a key (a letter, # or b, and a mode)', '"F# minor"');
  return key;
}

/** A MIDI number, fractional for hertz: `E2`, `90Hz`. */
export function parsePitchLimit(option: string, text: string): number {
  const hz = /^(\d+(?:\.\d+)?) ?hz$/i.exec(text);
  const midi = hz ? hzToMidi(Number(hz[1])) : parseNoteName(text);
  if (midi === null || !Number.isFinite(midi)) {
    const example = option === '--highest' ? ['C6', '1047Hz'] : ['E2', '82Hz'];
    throw wrongValue(
      option,
      text,
      'a note name with its octave or a frequency',
      example.join(` or ${option} `),
    );
  }
  return midi;
}
