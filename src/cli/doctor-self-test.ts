/** A small melody, computed, heard, written and read back: whether all parts work together on this system. */
import { decodeRecording } from '../audio/decode.js';
import { addStrike } from '../audio/piano/strike.js';
import { encodeWav } from '../audio/write-wav.js';
import { listen } from '../pipeline/listen.js';
import { measure } from '../pipeline/measure.js';
import { defaultHearOptions } from '../pipeline/options.js';
import { trackMix } from '../pitch/mix.js';
import { melodyJson } from '../write/json/json.js';
import { readMelodyJson } from '../write/json/read-json.js';
import { melodyMidi } from '../write/midi/midi.js';
import { readMidi } from '../write/midi/read-midi.js';
import { noteList } from '../write/note-list/note-list.js';
import { readNoteList } from '../write/note-list/read-note-list.js';
import { type Check, look } from './doctor-checks.js';

const RATE = 16_000;
/** C major up and down, three keys wide: MIDI numbers, a note each `STEP_SECONDS`. */
export const TUNE: readonly number[] = [60, 64, 67, 65, 62, 60];
const LABEL = 'the small melody';
const STEP_SECONDS = 0.4;
const START_SECONDS = 0.3;
const PART = {
  needed: true,
  advice: 'the program does not work here as it should: please report it with these lines',
};

/** The tune on the piano of the guides, as a WAV file. */
export function tuneSound(): Uint8Array {
  const samples = new Float32Array(RATE * (START_SECONDS + STEP_SECONDS * (TUNE.length + 1)));
  TUNE.forEach((midi, i) => {
    const start = START_SECONDS + i * STEP_SECONDS;
    addStrike(samples, RATE, { midi, start, end: start + 0.9 * STEP_SECONDS, velocity: 0.6 });
  });
  return encodeWav([samples], RATE);
}

/** Hears the tune as a solo, and reads back what was written of it. */
export async function checkSolo(): Promise<Check[]> {
  const files: { list: string; json: string; midi: Uint8Array }[] = [];
  const hearing = { ...PART, name: 'hearing a solo', purpose: 'a small melody is heard wrong' };
  const heard = await look(hearing, async () => {
    const request = { source: 'solo', lowestMidi: null, highestMidi: null } as const;
    const { input } = await listen({ bytes: tuneSound(), label: LABEL }, { from: null, to: null }, request);
    sameKeys(input.notes);
    const beat = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };
    const melody = measure(input, { beat, key: null, hand: 'medium' });
    const midi = melodyMidi(melody, { title: 'melody', key: null });
    files.push({ list: noteList(melody), json: melodyJson(melody), midi });
    return `all ${TUNE.length} notes of a small melody are right`;
  });
  const reading = { ...PART, name: 'files', purpose: 'what was written is read back wrong' };
  const read = files.map(({ list, json, midi }) =>
    look(reading, async () => {
      sameKeys(readNoteList(list, 'the note list').notes);
      sameKeys(readMelodyJson(json, 'the JSON').notes);
      sameKeys(readMidi(midi, 'the MIDI file').notes);
      return 'note list, JSON and MIDI are written and read back';
    }),
  );
  return [heard, ...(await Promise.all(read))];
}

/** Runs what hears the singer of a song; a piano is none, so that only its numbers are looked at. */
export async function checkMix(): Promise<Check> {
  const part = { ...PART, name: 'hearing a song', purpose: 'the networks give no numbers' };
  return look(part, async () => {
    const recording = await decodeRecording(tuneSound(), LABEL, { side: true });
    const { lowestMidi, highestMidi } = defaultHearOptions('mix');
    const { pitch, voiced } = await trackMix(recording, { lowestMidi, highestMidi, side: null });
    const numbers = [...pitch, ...voiced];
    if (numbers.length === 0 || !numbers.every(Number.isFinite)) throw new Error('there are none');
    return 'the networks run';
  });
}

function sameKeys(notes: readonly { readonly midi: number }[]): void {
  const keys = notes.map(({ midi }) => midi).join(' ');
  if (keys !== TUNE.join(' ')) throw new Error(`the keys ${TUNE.join(' ')} came out as ${keys}`);
}
