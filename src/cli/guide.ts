/** The command `guide`: input → melody → the sound of a piano in a file. */
import { EXIT, UsageError } from '../errors.js';
import type { Melody } from '../melody.js';
import { type InputBytes, recogniseInput } from '../pipeline/read-input.js';
import { planGuide } from '../practice/guide/plan.js';
import { selectNotes } from '../practice/guide/select.js';
import { guideFile } from '../practice/guide/sound.js';
import { CAUTION } from '../write/caution.js';
import { clock } from '../write/clock.js';
import { counted } from '../write/counted.js';
import type { Context } from './context.js';
import type { GuideCommandPlan } from './guide-options.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import { createSpeech, type Speech } from './say.js';
import { checkTargets, writeFiles } from './write-files.js';

/** Longest guide in seconds: beside a recording, what a gigabyte of memory takes. */
const LONGEST_SECONDS = 1200;
/** From so many times on, or so many minutes, the caution is said. */
const MANY_REPEATS = 8;
const MANY_SECONDS = 600;
/** Tuning of a recording that is worth a word, in cents. */
const AUDIBLE_CENTS = 3;

/**
 * Checks options, input and target; reads or hears the notes; plays them; writes the file.
 * @returns the exit status
 * @throws CantilenaError
 */
export async function runGuide(plan: GuideCommandPlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const rules = { force: plan.force, input: await checkMelodyPlan(plan, context) };
  const [target] = await checkTargets([{ path: plan.output, makesFolder: false }], rules, context.fs);
  const bytes = await readInput(plan.input, speech, context);
  const melody = await melodyIn(bytes, plan, speech);

  const notes = selectNotes(melody, plan.selection);
  const { request } = plan;
  const guide = planGuide(melody, notes, request);
  if (guide.seconds > LONGEST_SECONDS) {
    throw new UsageError(
      `the guide would last ${clock(guide.seconds)}, and ${clock(LONGEST_SECONDS)} is the most: choose lines with --line, or fewer repeats.`,
    );
  }
  const { beside } = request;
  if (!guide.beatKnown) {
    await speech.word(
      'no beat is known: four clicks count in at the pace of the first notes; --bpm and --downbeat set another.',
    );
  }
  if (beside && Math.abs(melody.tuningCents) >= AUDIBLE_CENTS) {
    const moved = `${Math.abs(melody.tuningCents).toFixed(0)} cents ${melody.tuningCents > 0 ? 'lower' : 'higher'}`;
    await speech.word(`${bytes.label}: played ${moved}, in tune with the piano.`);
  }
  const wipe = await speech.progress(`playing ${counted(notes.length, 'note')} …`);
  const recording = beside ? { ...bytes, tuningCents: melody.tuningCents } : null;
  const content = await guideFile(guide, recording, plan.format).finally(wipe);
  await writeFiles([{ target: target!, content }], rules, context.fs);
  await speech.word(`wrote ${plan.output}: ${counted(notes.length, 'note')}, ${clock(guide.seconds)}.`);
  if (request.repeat >= MANY_REPEATS || guide.seconds >= MANY_SECONDS) await speech.word(CAUTION);
  return EXIT.done;
}

/** A part of a recording is all that is heard of it; of what is read, the part is chosen from the notes. */
async function melodyIn(bytes: InputBytes, plan: GuideCommandPlan, speech: Speech): Promise<Melody> {
  const { kind } = await recogniseInput(bytes);
  const hearing = kind === 'recording' ? plan.hearing : { ...plan.hearing, from: null, to: null };
  const needRecording = plan.request.beside ? ['beside'] : [];
  return (await melodyFrom(bytes, { ...plan, hearing }, speech, needRecording)).melody;
}
