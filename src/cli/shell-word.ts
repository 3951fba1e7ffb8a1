/** A name as it is typed in a command, with quotes where a shell needs them. */
export function shellWord(name: string): string {
  return /^[\p{L}\p{N}_./@+,:-]+$/u.test(name) ? name : `'${name.replaceAll("'", "'\\''")}'`;
}
