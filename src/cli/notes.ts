/** The command `notes`: input → melody → what was asked for. */
import { basename, extname, join } from 'node:path';
import { UsageError } from '../errors.js';
import type { Melody } from '../melody.js';
import { type MeasureInput, measure } from '../pipeline/measure.js';
import type { PitchTrack } from '../pitch/types.js';
import { melodyJson } from '../write/json.js';
import { noteList } from '../write/note-list.js';
import { screenLayout } from '../write/screen.js';
import type { Context } from './context.js';
import { hearOptionsOf, listen } from './listen.js';
import type { HearingPlan, NotesPlan } from './notes-options.js';
import { paintFor } from './paint.js';
import { parseKey } from './pitch-values.js';
import { similarCommand } from './plan.js';
import { findInput, type InputBytes, readBytes } from './read-bytes.js';
import { recogniseInput } from './read-input.js';
import { createSpeech, type Speech } from './say.js';
import { type CheckedTarget, checkTargets, type Target, writeFiles } from './write-files.js';

/** A bar has four quarter notes where nothing is said (common practice). */
const USUAL_METER = 4;
/** Columns of a terminal that does not tell. */
const USUAL_WIDTH = 80;

type TargetKind = 'list' | 'json' | 'midi' | 'pitch track';

/** A target, and what goes there. */
type Wish = Target & { readonly kind: TargetKind };

/** What is known once the input was read or heard. */
interface Known {
  readonly input: MeasureInput;
  readonly bpm: number | null;
  readonly beatsPerBar: number | null;
  readonly firstDownbeat: number | null;
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
  const hearOptions = hearOptionsOf(plan.hearing);
  const key = plan.key === null ? null : parseKey('--key', plan.key);

  const identity = await findInput(plan.input, similarCommand(plan.input), context);
  const rules = { force: plan.force, input: identity };
  const wishes = wishesOf(plan);
  const checked = await checkTargets(wishes, rules, fs);
  const bytes = await readBytes(plan.input, context);

  const known = await know(bytes, plan, hearOptions, speech);
  const melody = measure(known.input, {
    bpm: known.bpm,
    beatsPerBar: known.beatsPerBar ?? USUAL_METER,
    firstDownbeat: known.firstDownbeat,
    key,
    hand: plan.hand,
  });

  const made = checked.map((target, i) => ({ target, kind: wishes[i]!.kind }));
  await writeTargets(made, melody, known.track, { title: nameOf(plan.input), rules, fs, speech });
  await speech.result(await printed(plan, melody, context));
}

/** Name of the input without folder and ending. */
function nameOf(input: string): string {
  return input === '-' ? 'melody' : basename(input, extname(input));
}

function wishesOf({ input, midi, pitchTrack, outFolder }: NotesPlan): Wish[] {
  const wishes: Wish[] = [];
  if (midi !== null) wishes.push({ kind: 'midi', path: midi, makesFolder: false });
  if (pitchTrack !== null) wishes.push({ kind: 'pitch track', path: pitchTrack, makesFolder: false });
  if (outFolder === null) return wishes;
  const inside = (kind: TargetKind, ending: string): Wish => ({
    kind,
    path: join(outFolder, `${nameOf(input)}${ending}`),
    makesFolder: true,
  });
  return [
    ...wishes,
    inside('list', '.notes'),
    inside('json', '.json'),
    inside('midi', '.mid'),
    inside('pitch track', '.pitch.csv'),
  ];
}

async function know(
  bytes: InputBytes,
  plan: NotesPlan,
  hearOptions: ReturnType<typeof hearOptionsOf>,
  speech: Speech,
): Promise<Known> {
  const { label } = bytes;
  const given = { bpm: plan.bpm, beatsPerBar: plan.beatsPerBar, firstDownbeat: plan.downbeat };
  const found = await recogniseInput(bytes);
  if (found.kind === 'notes') {
    const { read, title } = found;
    refuseHearing(plan, `${label} is ${title}`);
    const bpm = given.bpm ?? read.bpm;
    refuseBeats(plan, bpm, label);
    for (const warning of read.warnings) await speech.word(warning);
    await speech.word(`${label}: ${counted(read.notes.length, 'note')} read from ${title}.`);
    return {
      input: read,
      bpm,
      beatsPerBar: given.beatsPerBar ?? read.beatsPerBar,
      firstDownbeat: given.firstDownbeat ?? read.firstDownbeat,
      track: null,
    };
  }
  refuseBeats(plan, given.bpm, label);
  const wipe = await speech.progress(`listening to ${label} …`);
  const { input, track, source } = await listen(bytes, plan.hearing, hearOptions).finally(wipe);
  for (const warning of source.warnings) await speech.word(`${label}: ${warning}`);
  await speech.word(
    `${label}: ${counted(input.notes.length, 'note')} heard in ${source.seconds.toFixed(1)} s.`,
  );
  return { input, track, ...given };
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

/** @throws UsageError for options that only mean something where there is a beat */
function refuseBeats(plan: NotesPlan, bpm: number | null, label: string): void {
  if (bpm !== null) return;
  const option = plan.beatsPerBar === null ? '--downbeat' : '--meter';
  if (plan.beatsPerBar !== null || plan.downbeat !== null) {
    throw new UsageError(
      `${option} does nothing while the tempo of ${label} is not known: give --bpm too, as in --bpm 92.`,
    );
  }
}

function counted(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? '' : 's'}`;
}

async function writeTargets(
  made: readonly { readonly target: CheckedTarget; readonly kind: TargetKind }[],
  melody: Melody,
  track: PitchTrack | null,
  {
    title,
    rules,
    fs,
    speech,
  }: {
    title: string;
    rules: Parameters<typeof checkTargets>[1];
    fs: Context['fs'];
    speech: Speech;
  },
): Promise<void> {
  // Only --out asks for a pitch track of what has none: it means all that there is.
  const wanted = made.filter(({ kind }) => kind !== 'pitch track' || track !== null);
  const results = await Promise.all(
    wanted.map(async ({ target, kind }) => ({
      target,
      content: await contentOf(kind, melody, track, title),
    })),
  );
  await writeFiles(results, rules, fs);
  for (const { target } of results) await speech.word(`wrote ${target.path}`);
}

async function contentOf(
  kind: TargetKind,
  melody: Melody,
  track: PitchTrack | null,
  title: string,
): Promise<string | Uint8Array> {
  switch (kind) {
    case 'list':
      return noteList(melody);
    case 'json':
      return melodyJson(melody);
    case 'pitch track':
      return (await import('../write/pitch-track.js')).pitchTrackCsv(track!);
    case 'midi': {
      const [{ melodyMidi }, { isMinor, keySignature }] = await Promise.all([
        import('../write/midi.js'),
        import('../theory/key-signature.js'),
      ]);
      const best = melody.scales[0];
      const key = best ? { fifths: keySignature(best), minor: isMinor(best.mode) } : null;
      return melodyMidi(melody, { title, key });
    }
  }
}

async function printed(plan: NotesPlan, melody: Melody, { streams, env }: Context): Promise<string> {
  if (plan.print === 'json') return melodyJson(melody);
  if (plan.print === 'list' || streams.stdout.isTTY !== true) return noteList(melody);
  const paint = await paintFor(streams.stdout, env);
  return screenLayout(melody, paint, { width: streams.stdout.columns || USUAL_WIDTH });
}
