import type { Melody, MelodyNote } from '../../melody.js';
import { keySignature } from '../../theory/key-signature.js';
import type { NameSystem } from '../../theory/name-systems.js';
import type { Key, Mode } from '../../theory/types.js';
import { measures } from './musicxml-bars.js';
import { unmeasuredMeasures } from './musicxml-unmeasured.js';
import { writtenMeter } from './written-meter.js';
import { type Element, element, xmlText } from './xml.js';

/** What the file says about the music apart from the melody. */
export interface MusicXmlOptions {
  /** Title of the work; empty: none. */
  readonly title: string;
  /** The key whose signature is written, null for none. */
  readonly key: Key | null;
  /** In which system words beside the notes name others; English where nothing is said. */
  readonly names?: NameSystem;
}

/** The words of MusicXML for modes; scales that share the signature of a mode are written as that mode. */
const MODE_WORDS: Readonly<Record<Mode, string>> = {
  major: 'major',
  minor: 'minor',
  'harmonic minor': 'minor',
  'melodic minor': 'minor',
  dorian: 'dorian',
  phrygian: 'phrygian',
  lydian: 'lydian',
  mixolydian: 'mixolydian',
  locrian: 'locrian',
  'major pentatonic': 'major',
  'minor pentatonic': 'minor',
  blues: 'minor',
};

const HEAD = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
`;

/** A melody of which half the notes lie below this key (G3) is written in the bass clef (our choice). */
const BASS_CLEF_BELOW = 55;

/**
 * The melody as a score of one part, "Melody", in MusicXML 4.0 (W3C Music Notation Community Group, 2021),
 * score-partwise. Ends with a newline; docs/musicxml.md says what is in it.
 *
 * Where the notes have bars, they are written with note values, ties, rests and beams; without, as note heads
 * without stems, a measure a line of the song.
 */
export function melodyMusicXml(melody: Melody, options: MusicXmlOptions): string {
  const { title, key, names = 'english' } = options;
  const fifths = key === null ? 0 : keySignature(key);
  const keyElements =
    key === null ? [] : [element('key', [element('fifths', fifths), element('mode', MODE_WORDS[key.mode])])];
  const meter = writtenMeter(melody);
  const clef = clefOf(melody.notes);
  const content =
    meter === null || melody.notes.length === 0
      ? unmeasuredMeasures(melody, fifths, keyElements, clef, names)
      : measures(melody, meter, fifths, keyElements, clef, names);
  const score = element(
    'score-partwise',
    [
      ...(title === '' ? [] : [element('work', [element('work-title', title)])]),
      identification(),
      partList(),
      element('part', content, { id: 'P1' }),
    ],
    { version: '4.0' },
  );
  return HEAD + xmlText(score);
}

/** Who wrote it, and that accidentals, beams and systems are meant as they are. */
function identification(): Element {
  const supports = (name: string, more: Readonly<Record<string, string>> = {}) =>
    element('supports', [], { element: name, ...more, type: 'yes' });
  return element('identification', [
    element('encoding', [
      element('software', 'cantilena'),
      supports('accidental'),
      supports('beam'),
      supports('print', { attribute: 'new-system', value: 'yes' }),
    ]),
  ]);
}

/** One part, played by the piano: program 1 of General MIDI. */
function partList(): Element {
  return element('part-list', [
    element(
      'score-part',
      [
        element('part-name', 'Melody'),
        element('score-instrument', [element('instrument-name', 'Piano')], { id: 'P1-I1' }),
        element('midi-instrument', [element('midi-channel', 1), element('midi-program', 1)], { id: 'P1-I1' }),
      ],
      { id: 'P1' },
    ),
  ]);
}

/** The clef that a melody is read in most easily. */
export function clefOf(notes: readonly MelodyNote[]): Element {
  const keys = notes.map((note) => note.midi).sort((a, b) => a - b);
  const middle = keys[keys.length >> 1] ?? BASS_CLEF_BELOW;
  const [sign, line] = middle < BASS_CLEF_BELOW ? (['F', 4] as const) : (['G', 2] as const);
  return element('clef', [element('sign', sign), element('line', line)]);
}
