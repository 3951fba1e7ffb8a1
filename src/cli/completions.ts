/** The command `completions`: the tree of commands → a script for a shell. */
import { EXIT } from '../errors.js';
import { bashCompletions } from './completions-bash.js';
import { fishCompletions } from './completions-fish.js';
import type { CompletionsPlan, Shell } from './completions-options.js';
import { type CommandCompletion, completionsOf } from './completions-tree.js';
import { zshCompletions } from './completions-zsh.js';
import type { Context } from './context.js';
import { programOf } from './program.js';
import { createSpeech } from './say.js';

const SCRIPTS: Readonly<Record<Shell, (commands: readonly CommandCompletion[]) => string>> = {
  bash: bashCompletions,
  zsh: zshCompletions,
  fish: fishCompletions,
};

/** @returns the exit status */
export async function runCompletions({ shell }: CompletionsPlan, context: Context): Promise<number> {
  const script = SCRIPTS[shell](completionsOf(programOf(() => {})));
  await createSpeech(context, false).result(script);
  return EXIT.done;
}
