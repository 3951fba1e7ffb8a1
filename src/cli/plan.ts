/** argv → what to do, without looking at any file. Pure; loads nothing but the parser of options. */
import { type Command, CommanderError } from 'commander';
import { UsageError } from '../errors.js';
import type { Task } from './command.js';
import { COMMAND_NAMES } from './command-names.js';
import { programOf } from './program.js';

export type Plan =
  /** Text for standard output. */
  | { readonly kind: 'help'; readonly text: string }
  | { readonly kind: 'version' }
  /** Nothing was asked for: text for standard error. */
  | { readonly kind: 'nothing'; readonly text: string }
  | { readonly kind: 'task'; readonly task: Task };

/** First words that are the program's own; with any other, the command is `notes`. */
const OWN_WORDS: ReadonlySet<string> = new Set([...COMMAND_NAMES, 'help', '--help', '-h', '--version', '-V']);

/** Narrowest column of words, in characters, that help texts are still broken to fit. */
const NARROWEST_TEXT = 20;

const NOTHING = `cantilena writes down the melody of a recording.

  cantilena song.m4a          the notes, line by line
  cantilena --help            what else it does
`;

/**
 * @param width columns for the help texts
 * @throws UsageError for arguments that make no sense
 */
export function planOf(argv: readonly string[], width: number): Plan {
  const [first] = argv;
  if (first === undefined) return { kind: 'nothing', text: NOTHING };
  let help = '';
  let plan: Plan | null = null;
  const settle = (command: Command) =>
    command
      .exitOverride()
      .configureHelp({ minWidthToWrap: NARROWEST_TEXT })
      .configureOutput({
        writeOut: (text) => {
          help += text;
        },
        writeErr: () => {},
        getOutHelpWidth: () => width,
      });
  const program = settle(
    programOf((task) => {
      plan = { kind: 'task', task };
    }),
  );
  for (const command of program.commands) settle(command);
  const words = OWN_WORDS.has(first) ? argv : ['notes', ...argv];
  try {
    program.parse(words, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.code === 'commander.version') return { kind: 'version' };
    if (error.exitCode === 0) return { kind: 'help', text: help };
    throw new UsageError(sentence(error, words[0]!));
  }
  return plan!;
}

/** The parser's complaints in the program's words, one sentence each. */
function sentence(error: CommanderError, command: string): string {
  const [, option = ''] = /'(-[^' ]*)/.exec(error.message) ?? [];
  const [, suggestion] = /Did you mean (?:one of )?(.*)\?/.exec(error.message) ?? [];
  const own = (COMMAND_NAMES as readonly string[]).includes(command);
  const where = `cantilena ${own ? `${command} ` : ''}--help lists the options`;
  switch (error.code) {
    case 'commander.unknownOption':
      return `there is no option ${option}: ${suggestion ? `did you mean ${suggestion}?` : `${where}.`}`;
    case 'commander.optionMissingArgument':
      return `${option} needs a value after it: ${where}.`;
    case 'commander.help':
      return 'help is there for the commands only: cantilena --help lists them.';
    default:
      return `${error.message.replace(/^error: /, '').replace(/\s+/g, ' ')}: ${where}.`;
  }
}
