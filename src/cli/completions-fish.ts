/** The completions for fish. */
import { type CommandCompletion, type OptionCompletion, quoted, type Values } from './completions-tree.js';

/** Without a command the options of `notes` are taken. */
export function fishCompletions(commands: readonly CommandCompletion[]): string {
  const others = commands.filter(({ name }) => name !== 'notes').map(({ name }) => name);
  const condition = (name: string) =>
    quoted(
      name === 'notes'
        ? `not __fish_seen_subcommand_from ${others.join(' ')}`
        : `__fish_seen_subcommand_from ${name}`,
    );
  const lines = commands.flatMap(({ name, options, argument }) => [
    `complete -c cantilena -n __fish_use_subcommand -a ${name} -d ${quoted(does(commands, name))}`,
    ...options.map((option) => `complete -c cantilena -n ${condition(name)}${optionWords(option)}`),
    ...argumentWords(argument).map((words) => `complete -c cantilena -n ${condition(name)}${words}`),
  ]);
  return [
    '# Completions of cantilena for fish, written by: cantilena completions fish',
    "complete -c cantilena -n __fish_use_subcommand -l version -s V -d 'print the version'",
    ...lines,
    '',
  ].join('\n');
}

function does(commands: readonly CommandCompletion[], name: string): string {
  return commands.find((command) => command.name === name)!.does;
}

function optionWords({ flags, does, value }: OptionCompletion): string {
  const names = flags.map((flag) =>
    flag.startsWith('--') ? ` -l ${flag.slice(2)}` : ` -s ${flag.slice(1)}`,
  );
  return `${names.join('')}${value === null ? '' : valueWords(value.values)} -d ${quoted(does)}`;
}

/** `-r`: a value follows; `-f` and `-x`: no names of files. */
function valueWords(values: Values): string {
  switch (values.kind) {
    case 'words':
      return ` -x -a ${quoted(values.words.join(' '))}`;
    case 'files':
      return ' -r -F';
    case 'folders':
      return " -x -a '(__fish_complete_directories)'";
    case 'free':
      return ' -x';
  }
}

/** Names of files come by themselves; what else a command takes is said here. */
function argumentWords(argument: Values | null): string[] {
  if (argument?.kind === 'files') return [];
  if (argument?.kind === 'words') return [` -f -a ${quoted(argument.words.join(' '))}`];
  return argument?.kind === 'folders' ? [" -f -a '(__fish_complete_directories)'"] : [' -f'];
}
