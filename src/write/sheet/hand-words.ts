import type { Melody } from '../../melody.js';
import type { SongLine } from './page-data.js';

/** Moves of the hand that are told; a longer tale is nobody's help. */
const MOVES_TOLD = 2;

/**
 * Where the hand lies in a line: "Hand: thumb on G4, C5 from note 6." Empty where it is not known.
 * @param nameOf name of a MIDI number
 */
export function handWords(
  { hand = [] }: Pick<Melody, 'hand'>,
  { first, last }: Pick<SongLine, 'first' | 'last'>,
  nameOf: (midi: number) => string,
): string {
  const start = hand.findLast((position) => position.first <= first);
  if (start === undefined) return '';
  // A stretch that leaves the thumb over its key is no move worth telling.
  const moves = hand.filter(
    (position, i) =>
      position.first > first && position.first <= last && position.thumb !== hand[i - 1]!.thumb,
  );
  const told = moves
    .slice(0, MOVES_TOLD)
    .map((move) => `, ${nameOf(move.thumb)} from note ${move.first - first + 1}`);
  const more = moves.length - told.length;
  const rest = more === 0 ? '' : `, and ${more} more ${more === 1 ? 'move' : 'moves'}`;
  return `Hand: thumb on ${nameOf(start.thumb)}${told.join('')}${rest}.`;
}
