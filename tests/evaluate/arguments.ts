/** What `npm run evaluate` was asked for. */
import { parseArgs } from 'node:util';
import type { HearRequest } from '../../src/pipeline/options.js';
import { type Choice, DEFAULT_GROUPS, GROUPS, groupsNamed, KARAOKE, type KaraokeChoice } from './cases.js';
import type { VoiceLevel } from './karaoke.js';
import { isReportName, REPORT_NAMES, type ReportName } from './reports.js';

export const USAGE =
  'npm run evaluate -- DIR [--only singing,made,ssvd,vocadito,sung,piano,mix,mir1k,rhythm,lines,performed,keys,regions,guide,grade,compare,live,beats,fingering] ' +
  '[--half a|b] [--files PART] ' +
  '[--source auto|solo|mix] [--tracker contours] [--folds FOLDER] [--voice-db DB|alone] [--singers NAME,…] [--json]';

export interface EvaluateRequest {
  readonly root: string;
  readonly choice: Choice;
  /** The reports to print after the recordings; no recording is heard where only reports are named. */
  readonly reports: readonly ReportName[];
  readonly karaoke: KaraokeChoice;
  /** How every recording is heard; null: as what it is. */
  readonly source: HearRequest['source'] | null;
  /** What hears mixes: the program, or the baseline. */
  readonly tracker: 'own' | 'contours';
  /** Holds `solo-K.onnx`, the solo network that never saw part K of the sight-singing; null: the program's own. */
  readonly folds: string | null;
  readonly json: boolean;
}

function voiceLevelOf(word: string): VoiceLevel {
  if (word === 'alone') return word;
  const level = word.trim() === '' ? Number.NaN : Number(word);
  if (!Number.isFinite(level)) throw new Error(`--voice-db is a number of decibels or alone, not ${word}.`);
  return level;
}

/** `--voice-db -5` as `--voice-db=-5`, since parseArgs takes what begins with a dash for an option. */
function withNegativeLevel(argv: readonly string[]): string[] {
  return argv.flatMap((word, i) => {
    if (argv[i - 1] === '--voice-db' && /^-\d/.test(word)) return [];
    return word === '--voice-db' && /^-\d/.test(argv[i + 1] ?? '') ? [`${word}=${argv[i + 1]}`] : [word];
  });
}

/** Throws an Error with one sentence for a request that cannot be met. */
export function parseRequest(argv: readonly string[]): EvaluateRequest {
  const { values, positionals } = parseArgs({
    args: withNegativeLevel(argv),
    allowPositionals: true,
    options: {
      only: { type: 'string' },
      half: { type: 'string' },
      files: { type: 'string', default: '' },
      source: { type: 'string' },
      tracker: { type: 'string' },
      folds: { type: 'string' },
      'voice-db': { type: 'string' },
      singers: { type: 'string' },
      json: { type: 'boolean', default: false },
    },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1) throw new Error(`Give one folder: ${USAGE}`);
  const words = values.only?.split(',');
  const reports = [...new Set(words?.filter(isReportName))];
  const groups = words
    ?.filter((word) => !isReportName(word))
    .flatMap((word) => {
      const named = groupsNamed(word);
      if (named.length === 0) {
        throw new Error(`--only ${word} names nothing; use ${[...GROUPS, ...REPORT_NAMES].join(', ')}.`);
      }
      return named;
    });
  if (values.json && reports.length > 0) {
    throw new Error(
      `--json prints the scores of recordings, not ${reports.join(', ')}: leave one of them out.`,
    );
  }
  const { half, source, tracker, folds, singers, 'voice-db': voiceDb } = values;
  if (half !== undefined && half !== 'a' && half !== 'b') throw new Error(`--half is a or b, not ${half}.`);
  if (source !== undefined && source !== 'auto' && source !== 'solo' && source !== 'mix') {
    throw new Error(`--source is auto, solo or mix, not ${source}.`);
  }
  if (tracker !== undefined && tracker !== 'contours')
    throw new Error(`--tracker is contours, not ${tracker}.`);
  if (tracker !== undefined && source === 'auto') {
    throw new Error('--tracker contours hears mixes and decides nothing: leave out --source auto.');
  }
  return {
    root,
    choice: {
      groups: groups ?? DEFAULT_GROUPS,
      half: half ?? null,
      name: values.files,
    },
    reports,
    karaoke: {
      singers: singers?.split(',') ?? KARAOKE.singers,
      voiceLevel: voiceDb === undefined ? KARAOKE.voiceLevel : voiceLevelOf(voiceDb),
    },
    source: source ?? null,
    tracker: tracker ?? 'own',
    folds: folds ?? null,
    json: values.json,
  };
}
