/** Where the hand sits: in words, for each line. */
import type { MelodyNote } from '../../melody.js';
import { withSigns } from './names.js';

type Fingered = Pick<MelodyNote, 'name' | 'finger'>;

const LETTERS = 'CDEFGAB';
/** Thumb places this many white keys apart are one place of the hand: fingers stretch, the hand stays (our choice). */
const STRETCH = 1;
/** Moves of the hand that are told; more are nobody's help. */
const MOVES_TOLD = 2;

/** The place of the hand from one note on. */
interface HandPlace {
  /** Number of the first note of the place in its line, from 1. */
  readonly from: number;
  readonly thumb: string;
}

/** White keys from C0: the letter of a name, whatever its sharps and flats, is the white key next to it. */
function whiteKey(name: string): number {
  return 7 * Number(/-?\d+$/.exec(name)![0]) + LETTERS.indexOf(name[0]!);
}

/**
 * With a finger a white key (common practice: the five-finger position), finger f on a key puts the thumb f − 1 white
 * keys below. Notes that agree within a white key make one place; the thumb's own note names it, or else the place
 * most of its notes give.
 */
export function handPlaces(notes: readonly Fingered[]): HandPlace[] {
  const thumbs = notes.map(({ name, finger }) => whiteKey(name) - (finger - 1));
  const places: HandPlace[] = [];
  for (let from = 0; from < notes.length; ) {
    let to = from + 1;
    const seen = [thumbs[from]!];
    while (to < notes.length) {
      const tried = [...seen, thumbs[to]!];
      if (Math.max(...tried) - Math.min(...tried) > STRETCH) break;
      seen.push(thumbs[to]!);
      to++;
    }
    const own = notes.slice(from, to).find(({ finger }) => finger === 1);
    places.push({ from: from + 1, thumb: own?.name ?? whiteName(commonest(seen)) });
    from = to;
  }
  return places;
}

function whiteName(key: number): string {
  return `${LETTERS[((key % 7) + 7) % 7]}${Math.floor(key / 7)}`;
}

function commonest(numbers: readonly number[]): number {
  const count = (number: number) => numbers.filter((other) => other === number).length;
  return numbers.reduce((best, number) => (count(number) > count(best) ? number : best));
}

/** "thumb on G4; then on C5 from note 6", told up to the third place. */
export function handWords(notes: readonly Fingered[]): string {
  const places = handPlaces(notes);
  const [first] = places;
  if (first === undefined) return '';
  const told = places
    .slice(1, 1 + MOVES_TOLD)
    .map(({ thumb, from }) => `, ${withSigns(thumb)} from note ${from}`);
  const more = places.length - 1 - MOVES_TOLD;
  return `Hand: thumb on ${withSigns(first.thumb)}${told.join('')}${more > 0 ? `, and ${more} more ${more === 1 ? 'move' : 'moves'}` : ''}.`;
}
