/** The command `transpose`: a melody → the same in other keys. */
import { join } from 'node:path';
import { EXIT, UsageError } from '../errors.js';
import type { Melody } from '../melody.js';
import { transposeMelody } from '../pipeline/transpose.js';
import { PLAIN_GUIDE } from '../practice/guide/types.js';
import { type Move, moveByInterval, moveToTonic, practiceTonics, withinRange } from '../theory/moves.js';
import { parseNoteName, parseTonic } from '../theory/pitch-names.js';
import { tonicInFileName } from '../theory/signature-words.js';
import type { Key } from '../theory/types.js';
import { FINGER_CAUTION } from '../write/caution.js';
import { counted } from '../write/counted.js';
import { tableWidthOf } from './columns.js';
import type { Context } from './context.js';
import { checkMelodyPlan, melodyFrom, readInput } from './melody-input.js';
import { nameOf, OF_A_RECORDING, printed, type Wish, wishesOf } from './results.js';
import { createSpeech, type Speech } from './say.js';
import { type Destination, isSeveral, type TransposePlan } from './transpose-options.js';
import { type MovedFiles, movesJson, moveTable } from './transpose-table.js';
import { wrongValue } from './values.js';
import { wishContent } from './wish-content.js';
import {
  type CheckedTarget,
  checkTargets,
  type Result,
  type TargetRules,
  writeFiles,
} from './write-files.js';

/** A melody that was moved, and the files of it. */
interface Moved {
  readonly move: Move;
  readonly melody: Melody;
  readonly title: string;
  readonly wishes: readonly Wish[];
  /** Path of the guide of a set; null where one key is asked for. */
  readonly guide: string | null;
}

/**
 * Checks what can be checked, reads or hears the melody, moves it to every key, writes, prints.
 * @returns the exit status
 * @throws CantilenaError
 */
export async function runTranspose(plan: TransposePlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const range = rangeOf(plan.within);
  checkDestination(plan.destination);
  const rules: TargetRules = { force: plan.force, input: await checkMelodyPlan(plan, context) };
  // Files in a folder are named for keys that are not known yet; the others can be looked at before the work.
  await checkTargets(wishesOf({ ...plan, outFolder: null }, ''), rules, context.fs);

  const bytes = await readInput(plan.input, speech, context);
  const { melody } = await melodyFrom(bytes, plan, speech);
  const [best] = melody.scales;
  const moves = movesOf(plan.destination, { tonic: best!.tonic, mode: best!.mode });
  const moved = moves.map((move) =>
    movedMelody(melody, range === null ? move : fitting(move, melody, range), plan),
  );
  const files = await writeAll(moved, plan, rules, speech, context);
  if (isSeveral(plan.destination)) {
    await speech.word(FINGER_CAUTION);
    const width = tableWidthOf(context.streams.stdout);
    await speech.result(plan.print === 'json' ? movesJson(files) : moveTable(files, width));
  } else await speech.result(await printed(plan, moved[0]!.melody, context));
  return EXIT.done;
}

/** @throws UsageError for what is no key or no interval, before anything is heard */
function checkDestination(destination: Destination): void {
  if (destination.kind === 'interval') intervalMove({ tonic: 'C', mode: 'major' }, destination.text);
  if (destination.kind !== 'keys') return;
  for (const name of destination.names) {
    if (parseTonic(name) === null)
      throw wrongValue('--to', name, 'keys: a letter, # or b', 'Bb or --to F,Bb,Eb');
  }
}

/** @throws UsageError for what is no interval */
function intervalMove(from: Key, text: string): Move {
  const move = moveByInterval(from, text);
  if (move !== null) return move;
  throw wrongValue('--by', text, 'an interval (m3, -M2, P8) or whole semitones', 'm3 or --by -2');
}

function movesOf(destination: Destination, from: Key): Move[] {
  switch (destination.kind) {
    case 'plan':
      return practiceTonics(from, destination.count).map((tonic) => moveToTonic(from, tonic));
    case 'interval':
      return [intervalMove(from, destination.text)];
    case 'keys':
      return destination.names.map((name) => {
        const { tonic, mode } = parseTonic(name)!;
        // A letter alone reads as major and says nothing of the mode.
        if (mode !== from.mode && /[^A-Ga-g#b♯♭x\s]/u.test(name)) {
          throw new UsageError(
            `--to ${name}: the melody is in ${from.tonic} ${from.mode}, and moving keeps its mode; write --to ${tonic}, or say with --key what it is in.`,
          );
        }
        return moveToTonic(from, tonic);
      });
  }
}

/** @throws UsageError for what are no two notes, the lower first */
function rangeOf(within: TransposePlan['within']) {
  if (within === null) return null;
  const [lowest, highest] = within.map((name) => {
    const midi = parseNoteName(name);
    if (midi === null) throw wrongValue('--within', name, 'two notes with their octaves', 'C4 C6');
    return midi;
  }) as [number, number];
  if (lowest >= highest) {
    throw new UsageError(`--within ${within.join(' ')}: the second note does not lie above the first.`);
  }
  return { lowest, highest, words: `${within[0]} and ${within[1]}` };
}

function fitting(move: Move, { notes }: Melody, range: NonNullable<ReturnType<typeof rangeOf>>): Move {
  const midis = notes.map((note) => note.midi);
  const fits = withinRange(move, midis, range);
  if (fits !== null) return fits;
  throw new UsageError(
    `in ${move.key.tonic} ${move.key.mode} no octave of the melody lies between ${range.words}: it spans ${counted(Math.max(...midis) - Math.min(...midis), 'semitone')}; give --within more room.`,
  );
}

function movedMelody(melody: Melody, move: Move, plan: TransposePlan): Moved {
  const { key, semitones } = move;
  const name = nameOf(plan.input);
  const midis = melody.notes.map((note) => note.midi + semitones);
  if (Math.min(...midis) < 0 || Math.max(...midis) > 127) {
    const way = `${semitones > 0 ? 'up' : 'down'} by ${counted(Math.abs(semitones), 'semitone')}`;
    throw new UsageError(`moved ${way} the melody leaves the notes that MIDI has: move it less far.`);
  }
  return {
    move,
    melody: transposeMelody(melody, move, plan.music.hand, plan.music.fromFinger),
    title: `${name} in ${key.tonic} ${key.mode}`,
    wishes: wishesOf(plan, `${name}-${tonicInFileName(key.tonic)}`).filter(
      ({ kind }) => !OF_A_RECORDING.has(kind),
    ),
    guide:
      plan.outFolder !== null && isSeveral(plan.destination)
        ? join(plan.outFolder, `${name}-${tonicInFileName(key.tonic)}.mp3`)
        : null,
  };
}

/** Writes the files of all keys, or none. */
async function writeAll(
  moved: readonly Moved[],
  { names, music }: TransposePlan,
  rules: TargetRules,
  speech: Speech,
  { fs }: Context,
): Promise<MovedFiles[]> {
  const wanted = moved.flatMap(({ wishes, guide, melody, title }) => [
    ...wishes.map((wish) => ({
      target: wish,
      content: () => wishContent(wish, { melody, title, names, hand: music.hand, track: null, sound: null }),
    })),
    ...(guide === null
      ? []
      : [{ target: { path: guide, makesFolder: true }, content: () => guideOf(melody) }]),
  ]);
  const checked: readonly CheckedTarget[] = await checkTargets(
    wanted.map(({ target }) => target),
    rules,
    fs,
  );
  const results: Result[] = [];
  // One after the other: a guide takes a second of work, and all of them together much memory.
  for (const [i, { content }] of wanted.entries())
    results.push({ target: checked[i]!, content: await content() });
  await writeFiles(results, rules, fs);
  for (const { target } of results) await speech.word(`wrote ${target.path}`);
  return moved.map(({ move, melody, wishes, guide }) => ({
    move,
    melody,
    files: [...wishes.map(({ path }) => path), ...(guide === null ? [] : [guide])],
  }));
}

/** All of the melody on the piano, at its own speed. */
async function guideOf(melody: Melody): Promise<Uint8Array> {
  const [{ planGuide }, { guideFile }] = await Promise.all([
    import('../practice/guide/plan.js'),
    import('../practice/guide/sound.js'),
  ]);
  return guideFile(planGuide(melody, melody.notes, PLAIN_GUIDE), null, 'mp3');
}
