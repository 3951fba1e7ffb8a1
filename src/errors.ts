/**
 * The errors people see. Each carries a stable code and the exit status of the program; the message is one
 * sentence that says what is wrong, where, and what to do. Anything else that is thrown is a defect.
 */

/** Exit statuses of the program: scripts rely on them. */
export const EXIT = {
  done: 0,
  someFailed: 1,
  usage: 2,
  unreadable: 3,
  noMelody: 4,
} as const;

export type ErrorCode = 'usage' | 'unreadable' | 'no-melody' | 'unwritable';

/** Base of the errors that are told to the user without a stack trace. */
export class CantilenaError extends Error {
  constructor(
    message: string,
    readonly code: ErrorCode,
    readonly exitStatus: number,
  ) {
    super(message);
    this.name = new.target.name;
  }
}

/** Wrong options, names or values: exit status 2. */
export class UsageError extends CantilenaError {
  constructor(message: string) {
    super(message, 'usage', EXIT.usage);
  }
}

/** The input cannot be read or is not what it says: exit status 3. */
export class InputError extends CantilenaError {
  constructor(message: string) {
    super(message, 'unreadable', EXIT.unreadable);
  }
}

/** The input was read and holds no melody: exit status 4. */
export class NoMelodyError extends CantilenaError {
  constructor(message: string) {
    super(message, 'no-melody', EXIT.noMelody);
  }
}

/** A result cannot be written, or is already there: exit status 2. */
export class OutputError extends CantilenaError {
  constructor(message: string) {
    super(message, 'unwritable', EXIT.usage);
  }
}
