/** The command `grade`: melodies → how hard they are for a beginner, the easiest first. */
import { CantilenaError, EXIT, UsageError } from '../errors.js';
import { recogniseInput } from '../pipeline/read-input.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import type { GradePlan } from './grade-options.js';
import { easiestFirst, type Graded, gradesJson, gradesText } from './grade-text.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import { hearingPlanOf, type MelodyPlan } from './melody-options.js';
import { paintFor } from './paint.js';
import { createSpeech, type Speech } from './say.js';

/** Mistakes of one input, which leave the others to be graded. */
const OF_THE_INPUT: readonly number[] = [EXIT.unreadable, EXIT.noMelody];

/**
 * Looks for all inputs, hears or reads one after the other, and prints them sorted. Of several, one that cannot be
 * read is said and left out.
 * @returns the exit status: 1 where one of several was left out
 * @throws CantilenaError
 */
export async function runGrade(plan: GradePlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const plans = plan.inputs.map((input) => ({ input, hearing: plan.hearing, music: plan.music }));
  const alone = plans.length === 1;
  const readable = alone ? orThrow : orSay(context);
  const found = await readable(plans, async (one) => {
    await checkMelodyPlan(one, context);
    return one;
  });
  const graded = await readable(found, (one) => gradeOf(one, alone, speech, context));
  checkHeard(plan, graded);
  const sorted = easiestFirst(graded);
  const { stdout } = context.streams;
  if (plan.json) await speech.result(gradesJson(sorted));
  else if (sorted.length > 0) {
    const width = columnsOf(stdout);
    await speech.result(gradesText(sorted, await paintFor(stdout, context.env), { width }));
  }
  return sorted.length < plans.length ? EXIT.someFailed : EXIT.done;
}

/** Does some work for each of the inputs, one after the other. */
type Each = <A, B>(items: readonly A[], work: (item: A) => Promise<B>) => Promise<B[]>;

const orThrow: Each = async (items, work) => {
  const done = [];
  for (const item of items) done.push(await work(item));
  return done;
};

/** Leaves out those that cannot be read, and says so, also where nothing but errors is to be said. */
function orSay(context: Context): Each {
  const { word } = createSpeech(context, false);
  return async (items, work) => {
    const done = [];
    for (const item of items) {
      try {
        done.push(await work(item));
      } catch (error) {
        if (!(error instanceof CantilenaError) || !OF_THE_INPUT.includes(error.exitStatus)) throw error;
        await word(`cantilena: ${error.message}`);
      }
    }
    return done;
  };
}

interface GradedInput extends Graded {
  readonly isRecording: boolean;
}

/** Options on hearing are for the recordings among several inputs. */
async function gradeOf(
  plan: MelodyPlan,
  alone: boolean,
  speech: Speech,
  context: Context,
): Promise<GradedInput> {
  const bytes = await readInput(plan.input, speech, context);
  const isRecording = (await recogniseInput(bytes)).kind === 'recording';
  const hearing = !alone && !isRecording ? hearingPlanOf({}) : plan.hearing;
  const { melody } = await melodyFrom(bytes, { ...plan, hearing }, speech);
  return { file: plan.input, grade: melody.grade, isRecording };
}

/** @throws UsageError for options on hearing where nothing was heard */
function checkHeard({ hearing }: GradePlan, graded: readonly GradedInput[]): void {
  const given = Object.entries(hearing).find(([, value]) => value !== null);
  if (given === undefined || graded.length === 0 || graded.some(({ isRecording }) => isRecording)) return;
  throw new UsageError(
    `--${given[0]} is for recordings, and there is none among the inputs: leave the option out.`,
  );
}
