/** What a command is to the program: options that are read, and something to be run with them. */
import { type Argument, type Command, Option } from 'commander';
import type { Context } from './context.js';

/** A command with its arguments read. */
export interface Task {
  /** Does the work. Gives back the exit status; throws a CantilenaError for what went wrong. */
  run(context: Context): Promise<number>;
}

/** Makes the parser of a command; `done` is called with what is to be done once the arguments are read. */
export type CommandMaker = (done: (task: Task) => void) => Command;

/** An option that is there or not. */
export function flag(name: string, words: string): Option {
  return new Option(name, words);
}

/** Reads the value of an option, whose long name it gets for its complaints. */
export type ValueParser = ((option: string, text: string) => unknown) & {
  /** The values that it takes, where they are few. */
  readonly choices?: readonly string[];
};

const choices = new WeakMap<Option | Argument, readonly string[]>();

/** An option with a value. */
export function taking(name: string, words: string, parse: ValueParser): Option {
  const option = new Option(name, words);
  if (parse.choices !== undefined) offer(option, parse.choices);
  return option.argParser((text: string) => parse(option.long!, text));
}

/** Tells the completions what an option or argument takes. */
export function offer(part: Option | Argument, values: readonly string[]): void {
  choices.set(part, values);
}

/** What an option or argument takes, where these are few words; else none. */
export function choicesOf(part: Option | Argument): readonly string[] {
  return choices.get(part) ?? [];
}

/** For a value that is read later, where the tables for it are loaded. */
export function asWritten(_option: string, text: string): string {
  return text;
}

/** Adds options under one heading of the help text. */
export function addGroup(command: Command, heading: string, options: readonly Option[]): void {
  for (const option of options) command.addOption(option.helpGroup(heading));
}
