/** Phrases about notes, for people. */
import { listed } from '../../write/listed.js';

const NUMBERS = ['', 'a', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven'];

/** `a semitone too high`, `two semitones too low`, `an octave too high`. */
export function distance(semitones: number): string {
  return `${interval(semitones)} too ${semitones > 0 ? 'high' : 'low'}`;
}

/** `a semitone`, `14 semitones`, `an octave`; the direction is left to say. */
export function interval(semitones: number): string {
  const size = Math.abs(semitones);
  if (size % 12 === 0 && size > 0)
    return size === 12 ? 'an octave' : `${NUMBERS[size / 12] ?? size / 12} octaves`;
  return `${NUMBERS[size] ?? size} semitone${size === 1 ? '' : 's'}`;
}

/** `note 7`, `notes 7 and 9`, `notes 9 to 16`, `notes 3, 7 and 9`; numbers in order. */
export function notesWord(numbers: readonly number[]): string {
  const [first, last] = [numbers[0]!, numbers.at(-1)!];
  if (numbers.length === 1) return `note ${first}`;
  if (numbers.length > 2 && last - first === numbers.length - 1) return `notes ${first} to ${last}`;
  return `notes ${listed(numbers.map(String), 'and')}`;
}

/** A key's name without its octave: `F#`. */
export function keyWord(name: string): string {
  return name.replace(/-?\d+$/, '');
}

/** `0.3 s`. */
export function seconds(value: number): string {
  return `${value.toFixed(1)} s`;
}

/** Cents by which a sound may stray from a key before its cents are told (our choice). */
const PLAINLY_OFF_KEY = 15;

/** ` (68 cents)` for what was not sung on a key, else nothing. */
export function centsWord(semitones: number, cents: number): string {
  const plain = Math.abs(cents - 100 * semitones) < PLAINLY_OFF_KEY;
  return plain ? '' : ` (${Math.round(Math.abs(cents))} cents)`;
}
