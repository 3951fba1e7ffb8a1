/** The bytes of any result. */
import { contentOf, isOfMelody, type Wish } from './results.js';
import { type SheetParts, sheetContentOf } from './sheet-files.js';

export function wishContent(wish: Wish, parts: SheetParts): Promise<string | Uint8Array> {
  const { melody, track, title, names } = parts;
  return isOfMelody(wish)
    ? contentOf(wish.kind, melody, track, title, names)
    : sheetContentOf(wish.kind, parts);
}
