/** The command `notes`: input → melody → what was asked for. */
import { UsageError } from '../errors.js';
import { type MeasureInput, measure } from '../pipeline/measure.js';
import type { HearRequest } from '../pipeline/options.js';
import type { PitchTrack } from '../pitch/types.js';
import type { BeatsKnown } from '../rhythm/types.js';
import { similarCommand } from './commands.js';
import type { Context } from './context.js';
import { hearRequestOf, listen } from './listen.js';
import type { HearingPlan, NotesPlan } from './notes-options.js';
import { parseKey } from './pitch-values.js';
import { findInput, type InputBytes, readBytes } from './read-bytes.js';
import { recogniseInput } from './read-input.js';
import { contentOf, nameOf, printed, wishesOf } from './results.js';
import { createSpeech, type Speech } from './say.js';
import { checkTargets, writeFiles } from './write-files.js';

/** What is known once the input was read or heard. */
interface Known {
  readonly input: MeasureInput;
  readonly beat: BeatsKnown;
  /** Null for what was not heard from a recording. */
  readonly track: PitchTrack | null;
}

/**
 * Checks options, input and targets; reads or hears the notes; measures them; writes files; prints.
 * @throws CantilenaError
 */
export async function runNotes(plan: NotesPlan, context: Context): Promise<void> {
  const speech = createSpeech(context, plan.quiet);
  const { fs } = context;
  const hearRequest = hearRequestOf(plan.hearing);
  const key = plan.key === null ? null : parseKey('--key', plan.key);

  const identity = await findInput(plan.input, similarCommand(plan.input), context);
  const rules = { force: plan.force, input: identity };
  const wishes = wishesOf(plan);
  const checked = await checkTargets(wishes, rules, fs);
  if (plan.input === '-' && context.streams.stdin.isTTY) {
    await speech.word('reading what is typed here; Ctrl-D ends it.');
  }
  const bytes = await readBytes(plan.input, context);

  const known = await know(bytes, plan, hearRequest, speech);
  const melody = measure(known.input, {
    beat: known.beat,
    key,
    hand: plan.hand,
  });

  const results = await Promise.all(
    checked
      .map((target, i) => ({ target, kind: wishes[i]!.kind }))
      // Only --out asks for a pitch track of what has none: it means all that there is.
      .filter(({ kind }) => kind !== 'pitch track' || known.track !== null)
      .map(async ({ target, kind }) => ({
        target,
        content: await contentOf(kind, melody, known.track, nameOf(plan.input)),
      })),
  );
  await writeFiles(results, rules, fs);
  for (const { target } of results) await speech.word(`wrote ${target.path}`);
  await speech.result(await printed(plan, melody, context));
}

async function know(
  bytes: InputBytes,
  plan: NotesPlan,
  hearRequest: HearRequest,
  speech: Speech,
): Promise<Known> {
  const { label } = bytes;
  const given: BeatsKnown = {
    bpm: plan.bpm,
    beatsPerBar: plan.beatsPerBar,
    beatUnit: plan.beatUnit,
    firstDownbeatSeconds: plan.downbeat,
  };
  const found = await recogniseInput(bytes);
  if (found.kind === 'notes') {
    const { read, title } = found;
    refuseHearing(plan, `${label} is ${title}`);
    for (const warning of read.warnings) await speech.word(warning);
    await speech.word(`${label}: ${counted(read.notes.length, 'note')} read from ${title}.`);
    return {
      input: { ...read, band: null },
      beat: {
        bpm: given.bpm ?? read.bpm,
        beatsPerBar: given.beatsPerBar ?? read.beatsPerBar,
        beatUnit: given.beatsPerBar === null ? read.beatUnit : given.beatUnit,
        firstDownbeatSeconds: given.firstDownbeatSeconds ?? read.firstDownbeat,
      },
      track: null,
    };
  }
  const wipe = await speech.progress(`listening to ${label} …`);
  const { input, track, source } = await listen(bytes, plan.hearing, hearRequest).finally(wipe);
  for (const warning of source.warnings) await speech.word(`${label}: ${warning}`);
  const { heardAs } = input;
  if (heardAs !== null && heardAs.why !== null) {
    await speech.word(`${label}: heard as a ${heardAs.source}: ${heardAs.why}.`);
  }
  await speech.word(
    `${label}: ${counted(input.notes.length, 'note')} heard in ${source.seconds.toFixed(1)} s.`,
  );
  return { input, track, beat: given };
}

const HEARING_OPTIONS: readonly (keyof HearingPlan)[] = ['source', 'from', 'to', 'lowest', 'highest'];

/** @throws UsageError for options that only mean something where a recording is heard */
function refuseHearing(plan: NotesPlan, isWhat: string): void {
  const option =
    HEARING_OPTIONS.find((name) => plan.hearing[name] !== null) ??
    (plan.pitchTrack === null ? undefined : 'pitch-track');
  if (option !== undefined) {
    throw new UsageError(`--${option} is for recordings, and ${isWhat}: leave the option out.`);
  }
}

function counted(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? '' : 's'}`;
}
