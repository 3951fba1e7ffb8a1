/** What `doctor` looks at: one function a part of the system, each told what is there and what to do where it isn't. */
import { InputError, UsageError } from '../errors.js';
import type { NetworkName } from '../pitch/network/session.js';
import type { Context } from './context.js';
import { SMALL_SOUNDS } from './doctor-sounds.js';
import { installedRecorder, RECORDER_NAMES } from './recorder.js';
import { oneLine } from './say.js';

/** What came of one look. */
export interface Check {
  /** What was looked at: `network engine`. */
  readonly name: string;
  readonly status: 'ok' | 'missing';
  /** Whether anything but one command needs it. */
  readonly needed: boolean;
  /** What was found; or what it is for and what to do. */
  readonly words: string;
}

/** A part of the system: what it is for, and what to do where it is missing. */
interface Part {
  readonly name: string;
  readonly needed: boolean;
  readonly purpose: string;
  readonly advice: string;
}

const REINSTALL = 'install cantilena again';

/** Looks: a sentence on what was found, or an error on why it is missing. */
export async function look(part: Part, find: () => Promise<string>): Promise<Check> {
  const { name, needed, purpose, advice } = part;
  try {
    return { name, needed, status: 'ok', words: await find() };
  } catch (error) {
    const why = oneLine(error instanceof Error ? error.message : String(error)).replace(/\.$/, '');
    // A sentence for people says what to do by itself.
    const todo = error instanceof UsageError ? '' : `; ${advice}`;
    return { name, needed, status: 'missing', words: `${purpose}: ${why}${todo}.` };
  }
}

/**
 * @param version of the Node that runs, as in 20.12.0
 * @param range as in package.json: `>=20.12`
 */
export function checkNode(version: string, range: string): Promise<Check> {
  const least = range.replace(/^>=/, '');
  const part = {
    name: 'Node.js',
    needed: true,
    purpose: 'runs the program',
    advice: `install ${least} or later`,
  };
  return look(part, async () => {
    const [major = 0, minor = 0] = version.split('.').map(Number);
    const [leastMajor = 0, leastMinor = 0] = least.split('.').map(Number);
    const suits = major > leastMajor || (major === leastMajor && minor >= leastMinor);
    if (!suits) throw new Error(`it is ${version}`);
    return `${version} on ${process.platform} ${process.arch}; ${least} or later is needed`;
  });
}

const NETWORKS: readonly NetworkName[] = ['solo', 'mix-look', 'mix-listen'];

/** The engine starts and takes the weights; that they run is for the self-test. */
export function checkNetworks(load: (name: NetworkName) => Promise<unknown>): Promise<Check> {
  const part = {
    name: 'networks',
    needed: true,
    purpose: 'hear the voice in a recording',
    advice: REINSTALL,
  };
  return look(part, async () => {
    for (const name of NETWORKS) await load(name);
    return `the engine starts and loads the weights of all ${NETWORKS.length}`;
  });
}

/** How long a sound may come out beside its fifth of a second: decoders keep or cut what encoders put before it. */
const MOST_SECONDS = 0.35;
const LEAST_SECONDS = 0.15;

/** Has a small sound of every format decoded. `decode` gives the seconds that came out. */
export function checkDecoders(
  sounds: Readonly<Record<string, Uint8Array>>,
  decode: (bytes: Uint8Array, label: string) => Promise<number>,
): Promise<Check> {
  const part = { name: 'decoders', needed: true, purpose: 'read recordings', advice: REINSTALL };
  return look(part, async () => {
    const wrong: string[] = [];
    for (const [format, bytes] of Object.entries(sounds)) {
      const seconds = await decode(bytes, format).catch(() => 0);
      if (seconds < LEAST_SECONDS || seconds > MOST_SECONDS) wrong.push(format);
    }
    if (wrong.length > 0) throw new InputError(`no ${wrong.join(', ')}`);
    return Object.keys(sounds).join(', ');
  });
}

export function smallSounds(): Record<string, Uint8Array> {
  return Object.fromEntries(
    Object.entries(SMALL_SOUNDS).map(([format, text]) => [format, Buffer.from(text, 'base64')]),
  );
}

/** A score of one note, for the engraver to draw. */
const ONE_NOTE = `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure></part></score-partwise>`;

export function checkEngraver(start: () => Promise<(musicXml: string) => string>): Promise<Check> {
  const part = { name: 'engraver', needed: true, purpose: 'draws the notation of sheets', advice: REINSTALL };
  return look(part, async () => {
    const svg = (await start())(ONE_NOTE);
    if (!/class="notehead\b/.test(svg)) throw new Error('a note was not drawn');
    return 'draws a note';
  });
}

/** The packages that hearing and writing need; `load` imports them. */
export function checkPackages(load: () => Promise<unknown>): Promise<Check> {
  const part = { name: 'packages', needed: true, purpose: 'do the rest of the work', advice: REINSTALL };
  return look(part, async () => {
    await load();
    return 'all that hearing and writing need are there';
  });
}

export function checkRecorder(context: Pick<Context, 'env' | 'fs'>): Promise<Check> {
  const part = {
    name: 'recorder',
    needed: false,
    purpose: 'takes the sound of a microphone for cantilena listen',
    advice: `install one of ${RECORDER_NAMES.join(', ')}, or send sound to cantilena listen -`,
  };
  return look(part, async () => {
    const found = await installedRecorder(context);
    if (found === null) throw new Error('none was found');
    return found;
  });
}
