/** One octave of a keyboard in plain text, with the names of a scale's notes on its keys. */
import { type Naming, nameIn } from '../../theory/naming.js';
import { nameParts } from '../../theory/tonal-tables.js';

/** Columns from one white key to the next, so that the longest name (`sol♯♯*`) fits between its edges. */
const PITCH = 8;
/** Columns from the middle of a black key to its edge. */
const HALF_BLACK = 3;
/** Pitch classes of the white keys from C, and, by the white key they stand before, of the black ones. */
const WHITE = [0, 2, 4, 5, 7, 9, 11] as const;
const BLACK: Readonly<Record<number, number>> = { 1: 1, 2: 3, 4: 6, 5: 8, 6: 10 };
const WIDTH = PITCH * WHITE.length;

/**
 * The octave from C to B, 57 columns wide: every key of the scale has its name, the tonic a star after it, all other
 * keys are blank.
 *
 * @param notes names of the scale from the tonic up, ASCII without octave
 */
export function keyboardPicture(notes: readonly string[], naming: Naming): string[] {
  const names = new Array<string>(12).fill('');
  notes.forEach((note, i) => {
    names[nameParts(note)!.pitchClass] = `${nameIn(note, naming)}${i === 0 ? '*' : ''}`;
  });
  const black = Object.entries(BLACK).map(([border, pitchClass]) => ({
    middle: PITCH * Number(border),
    name: names[pitchClass]!,
  }));
  const borders = Array.from({ length: WHITE.length + 1 }, (_, i) => PITCH * i);
  const open = borders.filter((border) => black.every(({ middle }) => middle !== border));
  const edges = black.flatMap(({ middle }) => [middle - HALF_BLACK, middle + HALF_BLACK]);
  const upper = drawn([...open, ...edges].map((at) => [at, '│']));
  const bottoms = black.map(({ middle }): [number, string] => [middle - HALF_BLACK, '└──┬──┘']);
  return [
    edged('┌', [...open, ...edges], '┬', '┐'),
    upper,
    drawn([
      ...[...open, ...edges].map((at): [number, string] => [at, '│']),
      ...black.map(({ middle, name }): [number, string] => [middle - (name.length >> 1), name]),
    ]),
    drawn([...open.map((at): [number, string] => [at, '│']), ...bottoms]),
    drawn([
      ...borders.map((at): [number, string] => [at, '│']),
      ...WHITE.map((pitchClass, i): [number, string] => {
        const name = names[pitchClass]!;
        return [PITCH * i + (PITCH >> 1) - (name.length >> 1), name];
      }),
    ]),
    edged('└', borders, '┴', '┘'),
  ];
}

/** A row of blanks with texts put at their columns. */
function drawn(parts: readonly (readonly [number, string])[]): string {
  const row = new Array<string>(WIDTH + 1).fill(' ');
  for (const [at, text] of parts) row.splice(at, text.length, ...text);
  return row.join('');
}

function edged(left: string, columns: readonly number[], sign: string, right: string): string {
  const row = new Array<string>(WIDTH + 1).fill('─');
  for (const at of columns) row[at] = sign;
  row[0] = left;
  row[WIDTH] = right;
  return row.join('');
}
