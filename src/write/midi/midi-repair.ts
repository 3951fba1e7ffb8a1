/**
 * The one place for what @tonejs/midi writes wrong or slowly. It drops the upper byte of characters outside
 * Latin-1; it writes a key signature as its index plus 7 where minus 7 is meant (E flat major as 11 sharps,
 * which other programs refuse), and every time signature with a click a quarter note; and it copies the whole
 * track for every event, which takes half a minute for 10 000 notes. So texts go in as bytes, its first track
 * makes room for that of midi-conductor.ts, and the notes are written in pieces, a track each, that are joined
 * here.
 */

/** Bytes before the first note of a track without a name: empty track name (4), program change (3). */
const NAMELESS_START = 7;
/** Bytes of an end of track after a delta time of 0. */
const TRACK_END = 4;
const CHUNK_HEAD = 8;

/** Text as UTF-8, one character a byte: what the writer takes for a byte goes into the file unharmed. */
export function midiText(text: string): string {
  return Buffer.from(text.replace(/\p{Cc}+/gu, ' '), 'utf8').toString('latin1');
}

/**
 * One file of two tracks out of a file of which the second and all later tracks are one track in pieces: the first
 * of them keeps its name, those after it have none and count their ticks from the end of the one before.
 *
 * @param conductor contents of the first track, put in place of the one there
 */
export function assemble(bytes: Uint8Array, conductor: Buffer): Uint8Array {
  const [header, , second, ...pieces] = chunks(Buffer.from(bytes));
  const notes = [second!, ...pieces.map((piece) => piece.subarray(NAMELESS_START))];
  const end = second!.subarray(-TRACK_END);
  return Uint8Array.from(
    Buffer.concat([
      chunk('MThd', [header!.subarray(0, 2), Buffer.from([0, 2]), header!.subarray(4)]),
      chunk('MTrk', [conductor]),
      chunk('MTrk', [...notes.map((piece) => piece.subarray(0, -TRACK_END)), end]),
    ]),
  );
}

/** Contents of a file's chunks. */
function chunks(bytes: Buffer): Buffer[] {
  const list: Buffer[] = [];
  for (let at = 0; at < bytes.length; ) {
    const end = at + CHUNK_HEAD + bytes.readUInt32BE(at + 4);
    list.push(bytes.subarray(at + CHUNK_HEAD, end));
    at = end;
  }
  return list;
}

function chunk(kind: string, parts: readonly Buffer[]): Buffer {
  const content = Buffer.concat(parts);
  const head = Buffer.from(`${kind}\0\0\0\0`, 'latin1');
  head.writeUInt32BE(content.length, 4);
  return Buffer.concat([head, content]);
}
