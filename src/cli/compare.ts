/** The command `compare`: two melodies → what became of each note. */
import { EXIT, UsageError } from '../errors.js';
import type { Melody } from '../melody.js';
import { type InputBytes, recogniseInput } from '../pipeline/read-input.js';
import { checkLineIsThere } from '../practice/check-line.js';
import { compare } from '../practice/compare/compare.js';
import type { Side } from '../practice/compare/types.js';
import { counted } from '../write/counted.js';
import { columnsOf } from './columns.js';
import { comparisonJson } from './compare-json.js';
import type { ComparePlan } from './compare-options.js';
import { comparisonText } from './compare-text.js';
import type { Context } from './context.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import { type HearingPlan, type MelodyPlan, musicPlanOf } from './melody-options.js';
import { paintFor } from './paint.js';
import { createSpeech, type Speech } from './say.js';

/**
 * Looks for both inputs, hears or reads them, compares, prints.
 * @returns the exit status: 1 where the score is below what was asked for
 * @throws CantilenaError
 */
export async function runCompare(plan: ComparePlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const targetPlan = planOf(plan.target, plan.targetHearing);
  const attemptPlan = planOf(plan.attempt, plan.attemptHearing);
  for (const input of [targetPlan, attemptPlan]) await checkMelodyPlan(input, context);
  const sources = targetPlan.hearing.source === null ? [] : ['target-source'];
  const target = await melodyFrom(await readInput(plan.target, speech, context), targetPlan, speech, sources);
  if (plan.line !== null) checkLineIsThere(plan.line, target.melody.lines.length);
  const attempt = await attemptFrom(await readInput(plan.attempt, speech, context), attemptPlan, speech);
  const [wanted, played] = [sideOf(target.melody), sideOf(attempt.melody)];
  checkLengths(wanted.notes.length, played.notes.length);
  const comparison = compare(wanted, played, plan);
  const { stdout } = context.streams;
  await speech.result(
    plan.json
      ? comparisonJson(comparison)
      : comparisonText(comparison, wanted, played, await paintFor(stdout, context.env), {
          width: columnsOf(stdout),
        }),
  );
  return plan.failUnder !== null && comparison.score < plan.failUnder ? EXIT.someFailed : EXIT.done;
}

/** Whoever tries a melody plays or sings alone: a recording is heard as a solo unless something else was said. */
async function attemptFrom(bytes: InputBytes, plan: MelodyPlan, speech: Speech) {
  const { hearing } = plan;
  const { kind } = await recogniseInput(bytes);
  const asked =
    kind === 'recording' && hearing.source === null ? { ...hearing, source: 'solo' as const } : hearing;
  return melodyFrom(bytes, { ...plan, hearing: asked }, speech);
}

function planOf(input: string, hearing: HearingPlan): MelodyPlan {
  return { input, hearing, music: musicPlanOf({}) };
}

/** Most pairs of notes that are compared: half a gigabyte of memory, and a minute. Two songs have a hundredth of it. */
const MOST_PAIRS = 3e7;

/** @throws UsageError for what no memory holds */
export function checkLengths(targetNotes: number, attemptNotes: number): void {
  if (targetNotes * attemptNotes <= MOST_PAIRS) return;
  throw new UsageError(
    `${counted(targetNotes, 'note')} and ${counted(attemptNotes, 'note')} are too many to compare: give one song at a time.`,
  );
}

/** What a melody says of how it came: notes that were heard may be misheard, also after a way through a list. */
function sideOf({ notes, tuningCents, recording }: Melody): Side {
  return { notes, tuningCents, heard: recording.heardAs !== null };
}
