/** A whole number in a range, or an Error with one sentence that says which. */
export function whole(option: string, text: string, lowest: number, highest: number): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= lowest && value <= highest)) {
    throw new Error(`${option} is a whole number from ${lowest} to ${highest}, not ${text}.`);
  }
  return value;
}
