/** Tells by content what an input is, and reads the melody of what is no recording. */
import { InputError } from '../errors.js';
import type { ReadNotes } from '../write/types.js';

/** The bytes of an input. */
export interface InputBytes {
  readonly bytes: Uint8Array;
  /** What the input is called in sentences. */
  readonly label: string;
  /** Lets go of the bytes, which are empty then; called once a recording is decoded. Absent where they are needed after. */
  readonly release?: () => void;
}

export type Input =
  | { readonly kind: 'recording' }
  | {
      readonly kind: 'notes';
      /** For people: `a note list`. */
      readonly title: string;
      readonly read: ReadNotes;
    };

/** Bytes that are looked at to tell text from sound. */
const HEAD_BYTES = 4096;
/** Tabs in the first note of a list that does not say that it is one: eight fields at least. */
const FEWEST_TABS = 7;

/**
 * A MIDI file begins with `MThd`. What begins as text is JSON when its first character is a bracket, a note
 * list when its first line says so or its first line that is no comment has tabs enough, and else nothing that can be read. All the rest
 * is left to the decoders of recordings, whose files never begin as text.
 *
 * @throws InputError for text that is no melody, or one with mistakes
 * @throws NoMelodyError for files without notes
 */
export async function recogniseInput({ bytes, label }: InputBytes): Promise<Input> {
  const head = bytes.subarray(0, HEAD_BYTES);
  if (Buffer.from(head.subarray(0, 4)).toString('latin1') === 'MThd') {
    const { readMidi } = await import('../write/midi/read-midi.js');
    return { kind: 'notes', title: 'a MIDI file', read: readMidi(bytes, label) };
  }
  if ((head[0] === 0xff && head[1] === 0xfe) || (head[0] === 0xfe && head[1] === 0xff)) {
    // No sound that is read begins so: it would be an MPEG frame of layer I.
    throw new InputError(`${label} is text in UTF-16: save it as UTF-8.`);
  }
  if (bytes.length === 0 || !looksLikeText(head)) return { kind: 'recording' };
  const text = utf8(bytes, label);
  const firstLine = /\S.*/.exec(text.replace(/^\uFEFF/, ''))?.[0] ?? '';
  if (/^[{[]/.test(firstLine)) {
    const { readMelodyJson } = await import('../write/json/read-json.js');
    return { kind: 'notes', title: 'a melody as JSON', read: readMelodyJson(text, label) };
  }
  if (isNoteList(firstLine, text)) {
    const { readNoteList } = await import('../write/note-list/read-note-list.js');
    return { kind: 'notes', title: 'a note list', read: readNoteList(text, label) };
  }
  throw new InputError(
    `${label} is text, and neither a note list nor a melody as JSON: give a recording, or a list that begins with "# cantilena note list 1".`,
  );
}

/** `# cantilena note list`, as a spreadsheet may have quoted it; without that any # line, then a note. */
function isNoteList(firstLine: string, text: string): boolean {
  if (/^"?#\s*cantilena note list\b/.test(firstLine)) return true;
  const note = /^(?!"?#)\S.*$/m.exec(text.replace(/^\uFEFF/, ''))?.[0] ?? '';
  return note.split('\t').length > FEWEST_TABS;
}

/** Whether there are no control codes but those of text, in bytes that start without a mark of another encoding. */
function looksLikeText(head: Uint8Array): boolean {
  const control = head.some(
    (byte) => (byte < 0x20 && ![0x09, 0x0a, 0x0c, 0x0d].includes(byte)) || byte === 0x7f,
  );
  return !control && (head[0]! < 0x80 || (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf));
}

function utf8(bytes: Uint8Array, label: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new InputError(`${label} is text in another encoding than UTF-8: save it as UTF-8.`);
  }
}
