/** The inputs named on the command line. */
import { UsageError } from '../errors.js';
import { similarCommand } from './command-names.js';

/**
 * @param options what the command cannot do without, for the example
 * @throws UsageError unless exactly one input is named
 */
export function oneInput(command: string, inputs: readonly string[], options = ''): string {
  const [input] = inputs;
  if (input === undefined) {
    throw new UsageError(
      `there is no input: name a recording, as in cantilena ${command} song.m4a${options}.`,
    );
  }
  if (inputs.length > 1) {
    const meant = similarCommand(input);
    if (meant !== null) throw new UsageError(`there is no command ${input}: did you mean ${meant}?`);
    throw new UsageError(
      `one input is taken, and ${inputs.length} were given (${inputs.join(', ')}): a name with spaces needs quotes.`,
    );
  }
  checkNamed(input);
  return input;
}

/** @throws UsageError for an empty name */
export function checkNamed(input: string): void {
  if (input === '')
    throw new UsageError('the name of the input is empty: name a recording, or - for standard input.');
}
