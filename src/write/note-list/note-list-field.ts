import { InputError } from '../../errors.js';

/** A place in a note list, for error messages. */
export interface Where {
  /** What the text is called, such as the file's name. */
  readonly label: string;
  /** Line number from 1. */
  readonly line: number;
}

/** Longest piece of a wrong field that is shown, in characters. */
const SHOWN = 24;

/** A plain decimal with a point, such as -3, 0.25 or .5: no exponents, no words. Null where it is none. */
export function parseNumber(text: string): number | null {
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text) ? Number(text) : null;
}

/** The error for a field that is not what its column wants. A decimal comma gets a hint. */
export function wrongField(where: Where, column: string, text: string, wanted: string): InputError {
  const comma = /^[+-]?\d+,\d+$/.test(text) ? ', with a point instead of the comma' : '';
  return new InputError(
    `${where.label}, line ${where.line}, ${column}: expected ${wanted}${comma}, found ${shown(text)}.`,
  );
}

/** The text in quotes, cut short, control characters replaced, so that an error stays one line. */
export function shown(text: string): string {
  if (text === '') return 'nothing';
  const clean = text.replace(/\p{C}/gu, '�');
  return `"${clean.length > SHOWN ? `${clean.slice(0, SHOWN)}…` : clean}"`;
}
