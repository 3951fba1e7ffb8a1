import { createRequire } from 'node:module';
import { CantilenaError, EXIT } from '../errors.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import { planOf } from './plan.js';
import { createSpeech, oneLine } from './say.js';

export interface MainInput extends Context {
  /** Arguments after the name of the program. */
  readonly argv: readonly string[];
}

/** Exit status for a defect of the program (`EX_SOFTWARE` of BSD's sysexits.h). */
const DEFECT_STATUS = 70;
/** Widest help text, in columns: longer lines are hard to read. */
const WIDEST_HELP = 100;

/** Runs the program and gives back its exit status. Never throws and never ends the process. */
export async function main({ argv, ...context }: MainInput): Promise<number> {
  const { result, word } = createSpeech(context, false);
  try {
    const plan = planOf(argv, Math.min(columnsOf(context.streams.stdout), WIDEST_HELP));
    switch (plan.kind) {
      case 'help':
        await result(plan.text);
        return EXIT.done;
      case 'version':
        await result(`${ownVersion()}\n`);
        return EXIT.done;
      case 'nothing':
        for (const line of plan.text.trimEnd().split('\n')) await word(line);
        return EXIT.usage;
      case 'task':
        return await plan.task.run(context);
    }
  } catch (error) {
    const defect = !(error instanceof CantilenaError);
    const message = oneLine(error instanceof Error ? error.message : String(error));
    await word(
      defect
        ? `cantilena: this is a mistake in cantilena: ${message}; please report it with the command and the file.`
        : `cantilena: ${message}`,
    );
    if (context.env.CANTILENA_DEBUG && error instanceof Error)
      context.streams.stderr.write(`${error.stack}\n`);
    return defect ? DEFECT_STATUS : error.exitStatus;
  }
}

function ownVersion(): string {
  // The same two folders up from the sources and from the compiled program.
  return (createRequire(import.meta.url)('../../package.json') as { version: string }).version;
}
