/** The argument of `completions`. */
import { Argument, Command } from 'commander';
import { UsageError } from '../errors.js';
import { listed } from '../write/listed.js';
import { offer } from './command.js';
import { addExamples, type Example } from './help-layout.js';

export const SHELLS = ['bash', 'zsh', 'fish'] as const;

export type Shell = (typeof SHELLS)[number];

export interface CompletionsPlan {
  readonly shell: Shell;
}

const EXAMPLES: readonly Example[] = [
  ['source <(cantilena completions bash)', 'in ~/.bashrc: for bash'],
  ['source <(cantilena completions zsh)', 'in ~/.zshrc, after compinit: for zsh'],
  ['cantilena completions fish > ~/.config/fish/completions/cantilena.fish', 'once: for fish'],
];

export function completionsCommand(done: (plan: CompletionsPlan) => void): Command {
  const shell = new Argument('[shell...]', 'bash, zsh or fish');
  offer(shell, SHELLS);
  const command = new Command('completions')
    .description('Prints a script with which a shell completes commands, options and their values.')
    .usage('<bash | zsh | fish>')
    .addArgument(shell)
    .helpOption('-h, --help', 'print this')
    .action((words: string[]) => done({ shell: shellOf(words) }));
  return addExamples(command, EXAMPLES);
}

/** @throws UsageError unless exactly one shell is named that is known */
function shellOf(words: readonly string[]): Shell {
  const [word] = words;
  const shell = SHELLS.find((known) => known === word);
  if (shell !== undefined && words.length === 1) return shell;
  const found = words.length === 0 ? 'nothing' : words.join(' ');
  throw new UsageError(
    `completions takes the name of one shell, ${listed(SHELLS, 'or')}, not ${found}: write it as in cantilena completions bash.`,
  );
}
