/** The command `scales`: note names, or any melody → the scales that hold them. */
import { EXIT, UsageError } from '../errors.js';
import { scaleEvidence } from '../pipeline/dress.js';
import type { NameSystem } from '../theory/name-systems.js';
import { rankNamedNotes } from '../theory/named-notes.js';
import { keyRegions, mainScales } from '../theory/regions.js';
import type { Key } from '../theory/types.js';
import { scalesJson } from '../write/scales/json.js';
import { scalesText } from '../write/scales/text.js';
import type { ScalesSheet } from '../write/scales/types.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import { oneInput } from './inputs.js';
import { melodyOf } from './melody-input.js';
import { paintFor } from './paint.js';
import { parseKey } from './pitch-values.js';
import { createSpeech, type Speech } from './say.js';
import type { ScalesPlan } from './scales-options.js';
import { noSuchName, systemOf, typedNote, wordsOf } from './typed-notes.js';

/** A name with an ending or a folder. */
const LIKE_A_FILE = /[./\\]/;

/**
 * @returns the exit status
 * @throws CantilenaError
 */
export async function runScales(plan: ScalesPlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const key = plan.music.key === null ? null : parseKey('--key', plan.music.key);
  const typed = await typedNotes(plan, key, context);
  const sheet = typed === null ? await sheetOfInput(plan, key, speech, context) : sheetOfNames(typed, key);
  const { stdout } = context.streams;
  await speech.result(
    plan.json
      ? scalesJson(sheet, plan.top)
      : scalesText(sheet, await paintFor(stdout, context.env), {
          width: columnsOf(stdout),
          top: plan.top,
          names: plan.names ?? 'english',
        }),
  );
  return EXIT.done;
}

/**
 * MIDI numbers of the notes that were named; null where the words name an input: one argument that is there, or is
 * written like the name of a file. Else the first word that is no note is a mistake, unless none of several is one.
 */
async function typedNotes(plan: ScalesPlan, key: Key | null, { fs }: Context): Promise<number[] | null> {
  const system = plan.names ?? 'english';
  const words = wordsOf(plan.words, system);
  const notes = words.map((word) => typedNote(word, system, key));
  const wrong = notes.indexOf(null);
  if (wrong < 0) {
    refuseOptionsOfInputs(plan);
    needKey(system, key);
    return notes.map((note) => note!);
  }
  if (plan.words.length === 1) {
    const [input] = plan.words;
    if (input === '-' || LIKE_A_FILE.test(input!) || (await isThere(input!, fs))) return null;
    throw noSuchName(words[wrong]!, system, notes.length === 1);
  }
  // Names of another system are no names of files either.
  if (notes.every((note) => note === null) && systemOf(words[0]!, system) === null) return null;
  throw noSuchName(words[wrong]!, system, false);
}

async function isThere(path: string, fs: Context['fs']): Promise<boolean> {
  return fs.promises.stat(path).then(
    () => true,
    () => false,
  );
}

/** @throws UsageError for options that mean nothing where notes are named */
function refuseOptionsOfInputs({ hearing, music }: ScalesPlan): void {
  const { bpm, beatsPerBar, downbeat } = music;
  const given = Object.entries({ ...hearing, bpm, meter: beatsPerBar, downbeat }).find(
    ([, value]) => value !== null,
  );
  if (given === undefined) return;
  throw new UsageError(
    `--${given[0]} is for recordings and files, and names of notes were given: leave the option out, or write ./ before the name of a file.`,
  );
}

/** @throws UsageError where nothing says what the degrees are counted from */
function needKey(system: NameSystem, key: Key | null): void {
  if (system !== 'degrees' || key !== null) return;
  throw new UsageError('degrees are counted from a tonic: say which with --key, as in --key F.');
}

function sheetOfNames(midis: readonly number[], key: Key | null): ScalesSheet {
  return {
    notes: midis.map((midi) => ({ midi, line: null, bar: null, start: null })),
    scales: rankNamedNotes(midis, key ?? undefined),
    regions: [],
  };
}

async function sheetOfInput(
  plan: ScalesPlan,
  key: Key | null,
  speech: Speech,
  context: Context,
): Promise<ScalesSheet> {
  if (plan.json && plan.names !== null) {
    throw new UsageError('JSON always has English names: leave --names out.');
  }
  const input = oneInput('scales', plan.words);
  const { melody } = await melodyOf({ input, hearing: plan.hearing, music: plan.music }, speech, context);
  const evidence = scaleEvidence(melody.notes, melody.lines);
  const regions = keyRegions(evidence);
  return {
    notes: melody.notes.map(({ midi, line, bar, start }) => ({ midi, line, bar, start })),
    scales: mainScales(evidence, regions, key, melody.harmony ?? null),
    regions: regions.length > 1 ? regions : [],
  };
}
