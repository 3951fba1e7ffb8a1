/** Key signatures in words. */
import { keySignature } from './key-signature.js';
import type { Key } from './types.js';

/** `2 flats`, `1 sharp`, `no sharps or flats`. */
export function signatureWords(key: Key): string {
  const fifths = keySignature(key);
  if (fifths === 0) return 'no sharps or flats';
  const count = Math.abs(fifths);
  return `${count} ${fifths < 0 ? 'flat' : 'sharp'}${count === 1 ? '' : 's'}`;
}

const ACCIDENTAL_WORDS: Readonly<Record<string, string>> = { '#': '-sharp', b: '-flat' };

/** A tonic for the name of a file: `B-flat`, `F-sharp`, `C`. `#` means something else in shells and addresses. */
export function tonicInFileName(tonic: string): string {
  return tonic.replace(/[#b]/g, (sign) => ACCIDENTAL_WORDS[sign]!);
}
