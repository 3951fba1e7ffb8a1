/** The command `notes`: input → melody → what was asked for. */
import { EXIT } from '../errors.js';
import type { Context } from './context.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import type { NotesPlan } from './notes-options.js';
import { contentOf, nameOf, printed, wishesOf } from './results.js';
import { createSpeech } from './say.js';
import { checkTargets, writeFiles } from './write-files.js';

/**
 * Checks options, input and targets; reads or hears the notes; measures them; writes files; prints.
 * @returns the exit status
 * @throws CantilenaError
 */
export async function runNotes(plan: NotesPlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const { fs } = context;
  const rules = { force: plan.force, input: await checkMelodyPlan(plan, context) };
  const wishes = wishesOf(plan, nameOf(plan.input));
  const checked = await checkTargets(wishes, rules, fs);

  const bytes = await readInput(plan.input, speech, context);
  const needRecording = plan.pitchTrack === null ? [] : ['pitch-track'];
  const { melody, track } = await melodyFrom(bytes, plan, speech, needRecording);

  const results = await Promise.all(
    checked
      .map((target, i) => ({ target, kind: wishes[i]!.kind }))
      // Only --out asks for a pitch track of what has none: it means all that there is.
      .filter(({ kind }) => kind !== 'pitch track' || track !== null)
      .map(async ({ target, kind }) => ({
        target,
        content: await contentOf(kind, melody, track, nameOf(plan.input), plan.names),
      })),
  );
  await writeFiles(results, rules, fs);
  for (const { target } of results) await speech.word(`wrote ${target.path}`);
  await speech.result(await printed(plan, melody, context));
  return EXIT.done;
}
