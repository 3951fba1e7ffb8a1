/** The commands, in the order in which the help lists them. Loads parsers of options only: the work is imported when it is run. */
import { EXIT } from '../errors.js';
import type { CommandMaker } from './command.js';
import { notesCommand } from './notes-options.js';

export const COMMAND_MAKERS: readonly CommandMaker[] = [
  (done) =>
    notesCommand((plan) =>
      done({
        run: async (context) => {
          await (await import('./notes.js')).runNotes(plan, context);
          return EXIT.done;
        },
      }),
    ),
];
