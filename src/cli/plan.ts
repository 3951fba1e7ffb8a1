/** argv → what to do, without looking at any file. Pure; loads nothing but the parser of options. */
import { type Command, CommanderError } from 'commander';
import { UsageError } from '../errors.js';
import type { Task } from './command.js';
import { COMMAND_NAMES, similarCommand } from './command-names.js';
import { HELP_LAYOUT } from './help-layout.js';
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
      .configureHelp(HELP_LAYOUT)
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
  // With something after it, a word that is nearly a command and makes no sense as an input was meant for one.
  const meant = words === argv || argv.length < 2 ? null : similarCommand(first);
  try {
    program.parse(words, { from: 'user' });
  } catch (error) {
    if (meant !== null) throw new UsageError(`there is no command ${first}: did you mean ${meant}?`);
    if (!(error instanceof CommanderError)) throw error;
    if (error.code === 'commander.version') return { kind: 'version' };
    if (error.exitCode === 0) return { kind: 'help', text: help };
    throw new UsageError(sentence(error, words, program));
  }
  return plan!;
}

/** The parser's complaints in the program's words, one sentence each. */
function sentence(
  error: CommanderError,
  [command = '', ...words]: readonly string[],
  program: Command,
): string {
  const [, option = ''] = /'(-[^' ]*)/.exec(error.message) ?? [];
  const [, suggestion] = /Did you mean (?:one of )?(.*)\?/.exec(error.message) ?? [];
  const own = (COMMAND_NAMES as readonly string[]).includes(command);
  const where = `cantilena ${own ? `${command} ` : ''}--help lists the options`;
  switch (error.code) {
    case 'commander.unknownOption':
      if (isKnown(option, program) && !begins(suggestion, option))
        return `${command} has no option ${option}: ${where} that it has.`;
      if (/^-[^-]./.test(option)) {
        return `there is no option ${option}: ${where}; a name that starts with - is written ./${option}.`;
      }
      return `there is no option ${option}: ${suggestion ? `did you mean ${suggestion}?` : `${where}.`}`;
    case 'commander.optionMissingArgument':
      return `${option} needs a value after it: ${where}.`;
    case 'commander.excessArguments':
      return `${command} takes options only, and ${words.find((word) => !word.startsWith('-'))} is none: ${where}.`;
    case 'commander.help':
      return 'help is there for the commands only: cantilena --help lists them.';
    default:
      return `${error.message.replace(/^error: /, '').replace(/\s+/g, ' ')}: ${where}.`;
  }
}

/** Shortest beginning, dashes and all, by which two options are the same word: `--out` and `--output`. */
const SHORTEST_BEGINNING = 5;

/** Whether one of two options is the beginning of the other. */
function begins(suggestion: string | undefined, option: string): boolean {
  if (suggestion === undefined) return false;
  const [short, long] = suggestion.length < option.length ? [suggestion, option] : [option, suggestion];
  return short.length >= SHORTEST_BEGINNING && long.startsWith(short);
}

/** Whether any command has the option: then it is not mistyped. */
function isKnown(option: string, program: Command): boolean {
  return program.commands.some((command) =>
    command.options.some(({ long, short }) => option === long || option === short),
  );
}
