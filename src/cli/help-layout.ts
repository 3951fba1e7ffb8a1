/** Help texts fitted to a width: usage, the list of commands, and examples that can be pasted however narrow the terminal. */
import { type Command, Help } from 'commander';
import { wrap } from '../write/screen/wrap.js';

/** A command line, and what it gives in a few words. */
export type Example = readonly [line: string, gives: string];

const examples = new WeakMap<Command, readonly Example[]>();

/** Columns where nothing else is known. */
const USUAL = 80;
/** Narrowest column of words, in characters, that option texts are still broken to fit. */
const NARROWEST_TEXT = 20;
const INDENT = '  ';
const CONTINUED = '    ';
const DEEPER = '      ';
/** Keeps words on one line until the lines are broken; none is in the texts themselves. */
const NO_BREAK = '\u00a0';

/** Puts examples under a command's help text, and under its section of the manual. */
export function addExamples(command: Command, own: readonly Example[]): Command {
  examples.set(command, own);
  return command.addHelpText('after', ({ command }) => examplesText(own, widthOf(command)));
}

export function examplesOf(command: Command): readonly Example[] {
  return examples.get(command) ?? [];
}

/** Columns for the help text of a command. */
export function widthOf(command: Command): number {
  return command.configureOutput().getOutHelpWidth?.() || USUAL;
}

/** How the parser lays out all that is not an example. */
export const HELP_LAYOUT: Partial<Help> = {
  minWidthToWrap: NARROWEST_TEXT,
  commandUsage(this: Help, command) {
    const usage = Help.prototype.commandUsage
      .call(this, command)
      // A value stays whole, and beside its option.
      .replace(/[<[(][^<>[\]()]*[>\])]/g, unbroken)
      .replace(/(--?[a-z]+) (?=<)/g, `$1${NO_BREAK}`);
    return broken(usage, (this.helpWidth ?? USUAL) - 'Usage: '.length, '', '       ').join('\n');
  },
  subcommandTerm: (command) => command.name(),
};

/** Each line of an example with what it gives under it. */
export function examplesText(own: readonly Example[], width: number): string {
  const blocks = own.flatMap(([line, gives]) => [
    ...commandLines(line, width),
    ...wrap(gives, width, DEEPER, DEEPER),
  ]);
  return `\nExamples:\n${blocks.join('\n')}\n`;
}

/** A command line, broken before options and the shell's signs, each line but the last ending in a backslash. */
function commandLines(line: string, width: number): string[] {
  const parts = line.replace(/ (?![->|])/g, NO_BREAK);
  if (INDENT.length + line.length <= width) return [`${INDENT}${line}`];
  const lines = broken(parts, width - ' \\'.length, INDENT, CONTINUED);
  return lines.map((part, i) => (i < lines.length - 1 ? `${part} \\` : part));
}

function broken(text: string, width: number, first: string, next: string): string[] {
  return wrap(text, width, first, next).map((line) => line.replaceAll(NO_BREAK, ' '));
}

function unbroken(text: string): string {
  return text.replaceAll(' ', NO_BREAK);
}
