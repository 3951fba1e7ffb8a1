/** Any input → the melody in it: a recording is heard; a note list, JSON or MIDI file is read. */
import { UsageError } from '../errors.js';
import type { Melody } from '../melody.js';
import { knownBeat } from '../pipeline/known-beat.js';
import { type MeasureInput, measure } from '../pipeline/measure.js';
import { type InputBytes, recogniseInput } from '../pipeline/read-input.js';
import type { PitchTrack } from '../pitch/types.js';
import type { BeatsKnown } from '../rhythm/types.js';
import { counted } from '../write/counted.js';
import { similarCommand } from './command-names.js';
import type { Context } from './context.js';
import { hearRequestOf } from './hear-request.js';
import type { HearingPlan, MelodyPlan, MusicPlan } from './melody-options.js';
import { parseKey } from './pitch-values.js';
import { type FileIdentity, findInput, onlyToHear, readBytes } from './read-bytes.js';
import type { Speech } from './say.js';

export interface MelodyFound {
  readonly melody: Melody;
  /** The track it was heard in; null for what was not heard from a recording. */
  readonly track: PitchTrack | null;
  /** What was amiss with the input, a sentence each. */
  readonly warnings: readonly string[];
}

/** Checks, before anything slow is done, the options that take the tables of theory, and looks for the input. */
export async function checkMelodyPlan(
  plan: MelodyPlan,
  context: Pick<Context, 'fs'>,
): Promise<FileIdentity | null> {
  hearRequestOf(plan.hearing);
  keyOf(plan.music);
  return findInput(plan.input, similarCommand(plan.input), context);
}

/** The bytes of the input; tells a person at a terminal that they are waited for. */
export async function readInput(input: string, speech: Speech, context: Context): Promise<InputBytes> {
  if (input === '-' && context.streams.stdin.isTTY) {
    await speech.word('reading what is typed here; Ctrl-D ends it.');
  }
  return readBytes(input, context);
}

/**
 * Hears or reads the notes and measures them; says how many there are and how they were heard.
 * @param needRecording options of the command that were given and mean nothing without a recording
 * @throws UsageError, InputError, NoMelodyError
 */
export async function melodyFrom(
  bytes: InputBytes,
  plan: MelodyPlan,
  speech: Speech,
  needRecording: readonly string[] = [],
): Promise<MelodyFound> {
  const { input, beat, track, warnings } = await know(bytes, plan, speech, needRecording);
  const melody = measure(input, {
    beat,
    key: keyOf(plan.music),
    hand: plan.music.hand,
    fromFinger: plan.music.fromFinger,
  });
  return { melody, track, warnings };
}

/** All of the above, for commands that need no more of the input than its melody. */
export async function melodyOf(plan: MelodyPlan, speech: Speech, context: Context): Promise<MelodyFound> {
  await checkMelodyPlan(plan, context);
  return melodyFrom(onlyToHear(await readInput(plan.input, speech, context)), plan, speech);
}

function keyOf({ key }: MusicPlan) {
  return key === null ? null : parseKey('--key', key);
}

/** What is known once the input was read or heard. */
interface Known extends Pick<MelodyFound, 'track' | 'warnings'> {
  readonly input: MeasureInput;
  readonly beat: BeatsKnown;
}

async function know(
  bytes: InputBytes,
  { hearing, music }: MelodyPlan,
  speech: Speech,
  needRecording: readonly string[],
): Promise<Known> {
  const { label } = bytes;
  const given: BeatsKnown = {
    bpm: music.bpm,
    beatsPerBar: music.beatsPerBar,
    beatUnit: music.beatUnit,
    firstDownbeatSeconds: music.downbeat,
  };
  const found = await recogniseInput(bytes);
  if (found.kind === 'notes') {
    const { read, title } = found;
    const option = [...needRecording, ...HEARING_OPTIONS.filter((name) => hearing[name] !== null)][0];
    if (option !== undefined) {
      throw new UsageError(`--${option} is for recordings, and ${label} is ${title}: leave the option out.`);
    }
    for (const warning of read.warnings) await speech.word(warning);
    await speech.word(`${label}: ${counted(read.notes.length, 'note')} read from ${title}.`);
    return {
      input: { ...read, band: null },
      beat: knownBeat(read, given),
      track: null,
      warnings: read.warnings,
    };
  }
  // Decoders and trackers are loaded when there is something to hear.
  const { listen } = await import('../pipeline/listen.js');
  const wipe = await speech.progress(`listening to ${label} …`);
  const { input, track, source } = await listen(bytes, hearing, hearRequestOf(hearing)).finally(wipe);
  for (const warning of source.warnings) await speech.word(`${label}: ${warning}`);
  const { heardAs } = input;
  if (heardAs !== null && heardAs.why !== null) {
    await speech.word(`${label}: heard as a ${heardAs.source}: ${heardAs.why}.`);
  }
  await speech.word(
    `${label}: ${counted(input.notes.length, 'note')} heard in ${source.seconds.toFixed(1)} s.`,
  );
  return { input, track, warnings: source.warnings, beat: given };
}

const HEARING_OPTIONS: readonly (keyof HearingPlan)[] = ['source', 'from', 'to', 'lowest', 'highest'];
