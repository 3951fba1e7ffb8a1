/**
 * How often the key of a pop melody is found, each song by weights of a fold that never saw it, beside the correlation
 * with published profiles.
 *
 * The answer is the key (tonic, and major or minor by the third) whose scales together are likeliest; the last column
 * takes the first scale literally by its tonic and third.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ScaleEvidence } from '../../../src/theory/key-features.js';
import { usualTonic } from '../../../src/theory/key-signature.js';
import { rankScales } from '../../../src/theory/scales.js';
import type { Mode } from '../../../src/theory/types.js';
import { type FolkSong, readFolkSongs } from '../../train/keys/folk.js';
import { evidenceOf, FOLDS, readSongs, type Song, weightsFrom } from '../../train/keys/songs.js';
import { type Claim, calibrationTable, expectedCalibrationError } from '../calibration.js';
import { alignTable } from '../report.js';
import { PUBLISHED_PROFILES, type PublishedProfile } from './published-profiles.js';
import { keyOf, keyProbabilities, orderOf, weightedScore } from './scores.js';

interface MadeTruth {
  readonly key: Key;
  readonly notes: readonly { on: number; off: number; midi: number }[];
  readonly tuningCents: number;
}

interface Key {
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly mode: Mode;
}

interface Answer {
  readonly key: number;
  /** One value a key, the best the highest. */
  readonly values: readonly number[];
  /** The key of the first scale. */
  readonly first: number;
}

function pearson(x: readonly number[], y: readonly number[]): number {
  const mean = (v: readonly number[]) => v.reduce((a, b) => a + b, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  const sum = (of: (i: number) => number) => x.reduce((total, _, i) => total + of(i), 0);
  const spread = Math.sqrt(sum((i) => (x[i] - mx) ** 2) * sum((i) => (y[i] - my) ** 2));
  return spread > 0 ? sum((i) => (x[i] - mx) * (y[i] - my)) / spread : 0;
}

/** Krumhansl 1990, ch. 4: the sounding time of each pitch class correlated with the profile on each tonic. */
function byProfile({ notes, key }: Song, { major, minor }: PublishedProfile): Answer {
  const time = new Array<number>(12).fill(0);
  for (const { midi, weight } of notes) time[midi % 12] += weight;
  const values = Array.from({ length: 24 }, (_, k) => {
    const seen = time.map((_time, degree) => time[(k + degree) % 12]);
    return pearson(seen, k < 12 ? major : minor);
  });
  return { key, values, first: orderOf(values)[0] };
}

function row(name: string, answers: readonly Answer[]): string[] {
  const mean = (of: (a: Answer) => number) =>
    (answers.reduce((sum, a) => sum + of(a), 0) / answers.length).toFixed(3);
  const best = ({ values }: Answer) => orderOf(values)[0];
  return [
    name,
    String(answers.length),
    mean((a) => (best(a) === a.key ? 1 : 0)),
    mean((a) => weightedScore(best(a), a.key)),
    mean((a) => (orderOf(a.values).slice(0, 3).includes(a.key) ? 1 : 0)),
    mean((a) => (a.first === a.key ? 1 : 0)),
  ];
}

function calibration(title: string, claims: readonly Claim[]): string {
  const table = calibrationTable(claims, 5);
  const body = table
    .filter((bin) => bin.count > 0)
    .map((bin) => [
      `${bin.from.toFixed(1)}–${bin.to.toFixed(1)}`,
      String(bin.count),
      bin.confidence.toFixed(3),
      bin.right.toFixed(3),
    ]);
  return `${alignTable([title, 'melodies', 'mean', 'right'], body)}\nexpected calibration error ${expectedCalibrationError(table).toFixed(3)}`;
}

/** True notes of the made recordings: the scale that is printed for the tune, and the first of the ranking. */
function madeTable(root: string): string | null {
  const folder = join(root, 'made');
  if (!existsSync(folder)) return null;
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.truth.json'))
    .sort();
  if (files.length === 0) return null;
  const rows = files.map((file) => {
    const { key, notes, tuningCents } = JSON.parse(readFileSync(join(folder, file), 'utf8')) as MadeTruth;
    const { evidence } = evidenceOf(
      notes.map(({ on, off, midi }) => ({ start: on, end: off, midi: Math.round(midi - tuningCents / 100) })),
    );
    const [best] = rankScales(evidence);
    const right = best.mode === key.mode && keyOf(best) % 12 === key.tonic;
    const printed = `${usualTonic(key.tonic, key.mode)} ${key.mode}`;
    return {
      right,
      cells: [file.replace('.truth.json', ''), printed, `${best.tonic} ${best.mode}`, best.score.toFixed(2)],
    };
  });
  const right = rows.filter((row) => row.right).length;
  const table = alignTable(
    ['made, true notes', 'printed', 'first scale', 'probability'],
    rows.map((row) => row.cells),
  );
  return `${table}\ntonic and mode right: ${right} of ${rows.length}`;
}

/** Folk tunes for the fit of the folds, as for the program's own weights; folders parted by colons. */
function folkSongs(): FolkSong[] {
  const folders = process.env.FOLK_TUNES ?? '';
  if (folders === '') console.error('skipped: the folk tunes in the fit of the keys (FOLK_TUNES is not set)');
  return folders.split(':').filter(Boolean).flatMap(readFolkSongs);
}

/** The tables for the melodies under `root`, or null where they are not there. */
export function keysReport(root: string): string | null {
  const songs = readSongs(root);
  if (songs === null) return null;
  const folk = folkSongs();
  const whole: Answer[] = [];
  const excerpts: Answer[] = [];
  const scaleClaims: Claim[] = [];
  for (let fold = 0; fold < FOLDS; fold++) {
    const weights = weightsFrom(
      songs.filter((song) => song.fold !== fold),
      folk,
    );
    const answer = (notes: readonly ScaleEvidence[], key: number) => {
      const ranked = rankScales(notes, undefined, null, weights);
      const first = keyOf(ranked[0]);
      return { answer: { key, values: keyProbabilities(ranked), first }, confidence: ranked[0].score };
    };
    for (const song of songs.filter((each) => each.fold === fold)) {
      const own = answer(song.notes, song.key);
      whole.push(own.answer);
      scaleClaims.push({ confidence: own.confidence, right: own.answer.first === song.key });
      excerpts.push(...song.excerpts.map((excerpt) => answer(excerpt, song.key).answer));
    }
  }
  const claims = (answers: readonly Answer[]): Claim[] =>
    answers.map(({ key, values }) => {
      const best = orderOf(values)[0];
      return { confidence: values[best], right: best === key };
    });
  const head = ['key of pop melodies', 'melodies', 'exact', 'weighted', 'in first 3', 'first scale'];
  const table = alignTable(head, [
    row('ranking, each fold by the other four', whole),
    row('  excerpts of 1 to 8 lines', excerpts),
    ...PUBLISHED_PROFILES.map((profile) =>
      row(
        profile.name,
        songs.map((song) => byProfile(song, profile)),
      ),
    ),
  ]);
  const made = madeTable(root);
  return [
    table,
    calibration('probability of the key', claims(whole)),
    calibration('the same, excerpts', claims(excerpts)),
    calibration('probability of the first scale', scaleClaims),
    ...(made === null ? [] : [made]),
  ].join('\n\n');
}
