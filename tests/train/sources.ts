/** Finds the recordings to train on in folders; reads no more of them than is asked for. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, realpathSync } from 'node:fs';
import { basename, extname, join, sep } from 'node:path';
import { findCases } from '../evaluate/cases.js';
import type { Labels } from './targets.js';
import { readPitchLines, readTruth } from './truth.js';

/** One recording to train on, not decoded yet. */
export interface TrainingFile {
  readonly path: string;
  /** Number of the channel to take, or null for the mean of all. */
  readonly channel: number | null;
  readonly labels: Labels;
  readonly weight: number;
  readonly mostFrames: number;
}

/** Annotators of the sight-singing set mark the vowel, the last of the moments that count as an onset. */
const SSVD_LATE_SECONDS = 0.015;
/** Clips for the voiced output only: many singers, few frames each. */
const MIR1K = { weight: 1, mostFrames: 300, firstIndex: 3, step: 9, mostAPerformer: 6, voiceChannel: 1 };
/** Computed recordings are simpler than real ones and must not outweigh them. */
const RENDERED = { weight: 0.6, mostFrames: 1200 };
const AUDIO_ENDINGS = ['.wav', '.flac', '.mp3', '.ogg', '.opus', '.m4a'];

/** `singing/ssvd` of a folder, half a only: half b is for checking. */
export function sightSinging(root: string): TrainingFile[] {
  return findCases(root, { groups: ['ssvd'], half: 'a', name: '' }).cases.map((known) => ({
    path: known.path,
    channel: null,
    labels: { notes: known.readings[0].notes, lateSeconds: SSVD_LATE_SECONDS, voiced: null },
    weight: 1,
    mostFrames: Number.POSITIVE_INFINITY,
  }));
}

/** `mir1k` of a folder: of each singer's clips in order of name every ninth from the fourth, six at most. */
export function karaokeClips(root: string): TrainingFile[] {
  const folder = join(root, 'mir1k');
  if (!existsSync(folder)) return [];
  return chosenClips(readdirSync(folder)).map((name) => ({
    path: join(folder, `${name}.opus`),
    channel: MIR1K.voiceChannel,
    labels: readPitchLines(readFileSync(join(folder, `${name}.pv`), 'utf8'), `${name}.pv`),
    weight: MIR1K.weight,
    mostFrames: MIR1K.mostFrames,
  }));
}

/** Names without ending; what stands before the first underscore is the singer. */
export function chosenClips(files: readonly string[]): string[] {
  const bySinger = new Map<string, string[]>();
  for (const file of files.filter((f) => f.endsWith('.opus')).sort()) {
    const name = basename(file, '.opus');
    const singer = name.split('_')[0];
    bySinger.set(singer, [...(bySinger.get(singer) ?? []), name]);
  }
  const { firstIndex, step, mostAPerformer } = MIR1K;
  return [...bySinger.values()].flatMap((names) =>
    names.filter((_, i) => i % step === firstIndex).slice(0, mostAPerformer),
  );
}

/** A folder of computed recordings, `NAME.wav` or another audio file with `NAME.truth.json`. */
export function renderedFolder(folder: string): TrainingFile[] {
  const files = readdirSync(folder).sort();
  const truths = files.filter((file) => file.endsWith('.truth.json'));
  if (truths.length === 0) throw new Error(`${folder} has no NAME.truth.json to train on.`);
  return truths.map((file) => {
    const name = basename(file, '.truth.json');
    const audio = files.find((f) => AUDIO_ENDINGS.includes(extname(f)) && basename(f, extname(f)) === name);
    if (audio === undefined) throw new Error(`${folder}: ${file} has no recording beside it.`);
    return {
      path: join(folder, audio),
      channel: null,
      labels: readTruth(readFileSync(join(folder, file), 'utf8'), name),
      ...RENDERED,
    };
  });
}

/**
 * Refuses a further folder that holds anything of the data folder, by place or by content: what is kept for
 * measuring must not come in by a side door.
 */
export function refuseOverlap(root: string, folder: string): void {
  const inside = realpathSync(root) + sep;
  const measured = new Set(
    ['singing/ssvd', 'singing/vocadito', 'made']
      .map((part) => join(root, part))
      .filter((part) => existsSync(part))
      .flatMap((part) => audioIn(part).map(fingerprint)),
  );
  for (const path of readdirSync(folder).map((file) => join(folder, file))) {
    if (realpathSync(path).startsWith(inside)) {
      throw new Error(`${path} lies in ${root}: give a folder outside it.`);
    }
  }
  for (const path of audioIn(folder)) {
    if (measured.has(fingerprint(path))) {
      throw new Error(`${path} is a copy of a recording in ${root}: take it out.`);
    }
  }
}

function audioIn(folder: string): string[] {
  return readdirSync(folder)
    .filter((file) => AUDIO_ENDINGS.includes(extname(file)))
    .map((file) => join(folder, file));
}

function fingerprint(path: string): string {
  return createHash('sha256').update(readFileSync(path)).digest('hex');
}
