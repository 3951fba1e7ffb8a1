/** What can be completed, from the tree of commands. Pure. */
import type { Argument, Command, Option } from 'commander';
import { choicesOf } from './command.js';

/** What may stand at a place of the command line. */
export type Values =
  | { readonly kind: 'words'; readonly words: readonly string[] }
  | { readonly kind: 'files' }
  | { readonly kind: 'folders' }
  /** Something that cannot be guessed: a number, a time, a key. */
  | { readonly kind: 'free' };

export interface OptionCompletion {
  /** As written: `-n`, `--top`. */
  readonly flags: readonly string[];
  /** What it does, in a few words. */
  readonly does: string;
  /** What its value is called, and what it may be; null for one without a value. */
  readonly value: { readonly called: string; readonly values: Values } | null;
}

export interface CommandCompletion {
  readonly name: string;
  /** Its first sentence, without the full stop. */
  readonly does: string;
  readonly options: readonly OptionCompletion[];
  /** What stands beside the options; null where nothing does. */
  readonly argument: Values | null;
}

/** What values and arguments that are files are called; a folder is one that is written to or looked through. */
const FILES = ['file', 'input', 'target', 'what'];
const FOLDERS = ['folder'];

/** The commands of the program, and `help`, which takes their names. */
export function completionsOf(program: Command): CommandCompletion[] {
  const help = program.createHelp();
  const names = program.commands.map((command) => command.name());
  const commands = program.commands.map((command): CommandCompletion => {
    const [argument] = command.registeredArguments;
    return {
      name: command.name(),
      does: command.description().replace(/\.(\s.*)?$/s, ''),
      options: help.visibleOptions(command).map(optionCompletion),
      argument: argument === undefined ? null : valuesOf(argument, argument.name()),
    };
  });
  const ofHelp = { name: 'help', does: 'Prints the help of a command', options: [] };
  return [...commands, { ...ofHelp, argument: { kind: 'words', words: names } }];
}

function optionCompletion(option: Option): OptionCompletion {
  const [, called] = /[<[]([^>\]]+?)(?:\.\.\.)?[>\]]/.exec(option.flags) ?? [];
  return {
    flags: [option.short, option.long].filter((flag) => flag !== undefined),
    does: option.description,
    value: called === undefined ? null : { called, values: valuesOf(option, called) },
  };
}

function valuesOf(part: Option | Argument, called: string): Values {
  const words = choicesOf(part);
  if (words.length > 0) return { kind: 'words', words };
  if (FILES.includes(called)) return { kind: 'files' };
  return { kind: FOLDERS.includes(called) ? 'folders' : 'free' };
}

/** A text in single quotes, as the three shells read it. */
export function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
