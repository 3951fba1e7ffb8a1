/** A number with its word: `1 note`, `21 notes`. */
export function counted(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? '' : 's'}`;
}
