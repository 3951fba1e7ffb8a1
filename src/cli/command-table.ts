/** The commands, in the order in which the help lists them. Loads parsers of options only: the work is imported when it is run. */
import { batchCommand, mergeCommand } from './batch-options.js';
import type { CommandMaker, Task } from './command.js';
import { compareCommand } from './compare-options.js';
import { completionsCommand } from './completions-options.js';
import type { Context } from './context.js';
import { doctorCommand } from './doctor-options.js';
import { gradeCommand } from './grade-options.js';
import { guideCommand } from './guide-options.js';
import { listenCommand } from './listen-options.js';
import { notesCommand } from './notes-options.js';
import { scalesCommand } from './scales-options.js';
import { transposeCommand } from './transpose-options.js';

export const COMMAND_MAKERS: readonly CommandMaker[] = [
  (done) => notesCommand((plan) => done(task(async () => (await import('./notes.js')).runNotes, plan))),
  (done) => scalesCommand((plan) => done(task(async () => (await import('./scales.js')).runScales, plan))),
  (done) =>
    transposeCommand((plan) => done(task(async () => (await import('./transpose.js')).runTranspose, plan))),
  (done) => compareCommand((plan) => done(task(async () => (await import('./compare.js')).runCompare, plan))),
  (done) => guideCommand((plan) => done(task(async () => (await import('./guide.js')).runGuide, plan))),
  (done) => listenCommand((plan) => done(task(async () => (await import('./listen.js')).runListen, plan))),
  (done) => gradeCommand((plan) => done(task(async () => (await import('./grade.js')).runGrade, plan))),
  (done) => batchCommand((plan) => done(task(async () => (await import('./batch.js')).runBatch, plan))),
  (done) => mergeCommand((plan) => done(task(async () => (await import('./batch.js')).runMerge, plan))),
  (done) =>
    completionsCommand((plan) =>
      done(task(async () => (await import('./completions.js')).runCompletions, plan)),
    ),
  (done) => doctorCommand((plan) => done(task(async () => (await import('./doctor.js')).runDoctor, plan))),
];

function task<P>(load: () => Promise<(plan: P, context: Context) => Promise<number>>, plan: P): Task {
  return { run: async (context) => (await load())(plan, context) };
}
