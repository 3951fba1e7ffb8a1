import { UsageError } from '../errors.js';

/** @throws UsageError where a melody of `count` lines has no line of this number, from 1 */
export function checkLineIsThere(number: number, count: number): void {
  if (number <= count) return;
  const has = count === 1 ? 'has one line: leave --line out' : `has ${count} lines: choose one of them`;
  throw new UsageError(`there is no line ${number}, since the melody ${has}.`);
}
