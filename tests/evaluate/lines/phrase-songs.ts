/** Pop melodies with phrases marked by hand (Dai et al. 2020 on POP909), one JSON object a line of the file. */
import type { LineNote } from '../../../src/rhythm/lines/clock.js';
import type { WrittenNotes } from '../../../src/rhythm/types.js';

/** Where the file lies in the folder of recordings and songs with known answers. */
export const PHRASES_FILE = 'phrases/pop909-phrases.jsonl';

/** Sixteenths in a bar of these songs. */
const BAR_SIXTEENTHS = 16;

export interface PhraseSong {
  readonly id: string;
  /** Notes as written, played at the song's tempo. */
  readonly notes: readonly LineNote[];
  readonly written: WrittenNotes;
  /** Onset of every note in sixteenths from the start of the first bar. */
  readonly onsets: readonly number[];
  /** The sung phrases that have notes: one list a reading. */
  readonly readings: readonly (readonly MarkedPhrase[])[];
}

export interface MarkedPhrase {
  /** The bar line it starts at, in sixteenths. */
  readonly start: number;
  readonly letter: string;
}

interface SongJson {
  readonly id: string;
  readonly bpm: number;
  /** MIDI number, 0 for a rest; sixteenths. */
  readonly notes: readonly (readonly [number, number])[];
  /** Letter, a capital where it is sung; bars. */
  readonly phrases: readonly (readonly [string, number])[];
  readonly phrasesOther: readonly (readonly [string, number])[];
}

/** The sung phrases that hold a note's onset. */
function markedPhrases(phrases: SongJson['phrases'], onsets: readonly number[]): MarkedPhrase[] {
  let at = 0;
  const marked: MarkedPhrase[] = [];
  for (const [letter, bars] of phrases) {
    const end = at + bars * BAR_SIXTEENTHS;
    const isSung = letter !== letter.toLowerCase();
    if (isSung && onsets.some((onset) => onset >= at && onset < end)) marked.push({ start: at, letter });
    at = end;
  }
  return marked;
}

/** Every song of the file's text; songs without notes or marked phrases are errors. */
export function readPhraseSongs(text: string, label: string): PhraseSong[] {
  return text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => songOf(JSON.parse(line) as SongJson, label));
}

function songOf(song: SongJson, label: string): PhraseSong {
  const sixteenthSeconds = 15 / song.bpm;
  const notes: LineNote[] = [];
  const onsets: number[] = [];
  const places: WrittenNotes['places'][number][] = [];
  let at = 0;
  for (const [midi, length] of song.notes) {
    if (midi > 0) {
      notes.push({ start: at * sixteenthSeconds, end: (at + length) * sixteenthSeconds, midi });
      onsets.push(at);
      places.push({
        bar: Math.floor(at / BAR_SIXTEENTHS) + 1,
        beat: (at % BAR_SIXTEENTHS) / 4 + 1,
        beats: length / 4,
      });
    }
    at += length;
  }
  const readings = [song.phrases, song.phrasesOther].map((phrases) => markedPhrases(phrases, onsets));
  if (notes.length === 0 || readings.some((marked) => marked.length === 0)) {
    throw new Error(`${label}: song ${song.id} has no notes or no sung phrase.`);
  }
  return { id: song.id, notes, written: { places, beatsPerBar: 4 }, onsets, readings };
}
