/** A grade in words. */
import type { Grade } from '../../hand/grade/types.js';

/** One for two levels in a row. */
const WORDS = ['very easy', 'easy', 'middling', 'hard', 'very hard'] as const;

/** The level as a whole number: 1 to 10. */
export function wholeLevel({ level }: Pick<Grade, 'level'>): number {
  return Math.round(level);
}

/** `grade 3 of 10, easy` */
export function gradeWords(grade: Pick<Grade, 'level'>): string {
  const whole = wholeLevel(grade);
  return `grade ${whole} of 10, ${WORDS[Math.ceil(whole / 2) - 1]}`;
}
