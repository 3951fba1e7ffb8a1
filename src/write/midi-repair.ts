import midiFile from 'midi-file';

/** A key signature as MIDI files hold it. */
export interface MidiKey {
  /** Sharps (positive) or flats (negative), −7..7. */
  readonly fifths: number;
  readonly minor: boolean;
}

/**
 * The one place for what @tonejs/midi writes wrong: it drops the upper byte of characters outside Latin-1,
 * and it writes a key signature as its index plus 7 where minus 7 is meant (E flat major as 11 sharps, which
 * other programs refuse).
 */

/** Text as UTF-8, one character a byte: what the writer takes for a byte goes into the file unharmed. */
export function midiText(text: string): string {
  return Buffer.from(text.replace(/\p{Cc}+/gu, ' '), 'utf8').toString('latin1');
}

/** Puts the key signature at the start of the first track, in the standard's form: FF 59 02 sf mi. */
export function withKeySignature(bytes: Uint8Array, key: MidiKey | null): Uint8Array {
  if (key === null) return bytes;
  const data = midiFile.parseMidi(bytes);
  const first = data.tracks[0]!;
  first.splice(1, 0, {
    deltaTime: 0,
    meta: true,
    type: 'keySignature',
    key: key.fifths,
    scale: key.minor ? 1 : 0,
  });
  return Uint8Array.from(midiFile.writeMidi(data));
}
