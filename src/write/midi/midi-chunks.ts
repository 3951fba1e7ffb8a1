import { InputError } from '../../errors.js';

const HEADER_BYTES = 14;

/**
 * Bytes that refuse a piece that ends before it begins: the parser takes a variable-length number of more than four bytes
 * for a negative one, steps back by it, and reads the same events until no memory is left.
 */
class ForwardBytes extends Uint8Array {
  override slice(start = 0, end = this.length): Uint8Array<ArrayBuffer> {
    if (!(end >= start)) throw new RangeError('it holds a length that is none');
    return super.slice(start, end);
  }
}

/**
 * Checks a Standard MIDI File's chunks and returns the bytes with only the header and track chunks in them:
 * the standard (SMF 1.0, "Chunks") has readers skip chunks of other kinds, which the parser does not, and
 * the parser reads past the end of a file that was cut off.
 *
 * @throws InputError for bytes that are no MIDI file, format 2, a cut-off file, or a header without tempo
 */
export function checkMidiBytes(bytes: Uint8Array, label: string): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < HEADER_BYTES || chunkKind(bytes, 0) !== 'MThd' || view.getUint32(4) < 6) {
    throw new InputError(`${label} is not a MIDI file: it does not begin with a MIDI header.`);
  }
  const format = view.getUint16(8);
  if (format > 1) {
    throw new InputError(
      `${label} is a MIDI file of format ${format}, and formats 0 and 1 are read; export it as one song.`,
    );
  }
  if (view.getUint16(12) === 0) {
    throw new InputError(`${label} is a damaged MIDI file: its header gives no length of a beat.`);
  }
  const tracks = view.getUint16(10);
  const pieces = [bytes.slice(0, 8 + view.getUint32(4))];
  let at = 8 + view.getUint32(4);
  while (pieces.length <= tracks) {
    const length = at + 8 <= bytes.length ? view.getUint32(at + 4) : Number.POSITIVE_INFINITY;
    if (at + 8 + length > bytes.length) {
      throw new InputError(
        `${label} is cut off: it announces ${tracks} tracks and ends inside or before track ${pieces.length}; export or copy it again.`,
      );
    }
    if (chunkKind(bytes, at) === 'MTrk') pieces.push(bytes.slice(at, at + 8 + length));
    at += 8 + length;
  }
  return ForwardBytes.from(Buffer.concat(pieces));
}

function chunkKind(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}
