/** The command `notes`: input → melody → what was asked for. */
import type { PageSound } from '../audio/types.js';
import { EXIT } from '../errors.js';
import type { InputBytes } from '../pipeline/read-input.js';
import type { Context } from './context.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import type { NotesPlan } from './notes-options.js';
import { onlyToHear } from './read-bytes.js';
import { nameOf, OF_A_RECORDING, printed, wishesOf } from './results.js';
import { createSpeech } from './say.js';
import { startEngraverFor } from './sheet-files.js';
import { wishContent } from './wish-content.js';
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

  startEngraverFor(wishes.map(({ kind }) => kind));
  const read = await readInput(plan.input, speech, context);
  const bytes = plan.embedAudio ? read : onlyToHear(read);
  const { melody, track } = await melodyFrom(bytes, plan, speech, needRecording(plan));
  const title = nameOf(plan.input);
  const sound = plan.embedAudio && track !== null ? await soundOf(bytes, plan) : null;

  const parts = { melody, track, title, sound, names: plan.names, hand: plan.music.hand };
  const results = await Promise.all(
    checked
      .map((target, i) => ({ target, wish: wishes[i]! }))
      // Only --out asks for what there is not without a recording: it means all that there is.
      .filter(({ wish }) => track !== null || !OF_A_RECORDING.has(wish.kind))
      .map(async ({ target, wish }) => ({ target, content: await wishContent(wish, parts) })),
  );
  await writeFiles(results, rules, fs);
  for (const { target } of results) await speech.word(`wrote ${target.path}`);
  await speech.result(await printed(plan, melody, context));
  return EXIT.done;
}

/** Options that were given and mean nothing without a recording. */
function needRecording({ pitchTrack, plot, embedAudio }: NotesPlan): string[] {
  return [
    ...(pitchTrack === null ? [] : ['pitch-track']),
    ...(plot === null ? [] : ['plot']),
    ...(embedAudio ? ['embed-audio'] : []),
  ];
}

async function soundOf({ bytes, label }: InputBytes, { hearing }: NotesPlan): Promise<PageSound> {
  const { soundForPage } = await import('../audio/page-sound.js');
  return soundForPage(bytes, label, { from: hearing.from ?? 0, to: hearing.to ?? Number.POSITIVE_INFINITY });
}
