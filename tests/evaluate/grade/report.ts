/**
 * Grades of melodies from their true notes: nursery-like tunes beside pop songs, a melody in other keys, and at other
 * speeds. The curves were set by the songs of even number; those of odd number are reported.
 */
import { transposeMelody } from '../../../src/pipeline/transpose.js';
import { usualTonic } from '../../../src/theory/key-signature.js';
import { moveToTonic } from '../../../src/theory/moves.js';
import { alignTable } from '../report.js';
import { quantile, spearman } from './rank.js';
import { type GradeSong, melodyOf, playedSongs, tunesOf, writtenSongs } from './songs.js';

/**
 * Tunes that children and first lessons sing (common practice): two nursery rhymes, the first tune on five keys of many
 * methods, and two slow tunes on five notes an octave. The others are folk songs, faster, wider or modal.
 */
const NURSERY_LIKE = ['little-star', 'brother-john', 'joy-theme', 'amazing-grace', 'auld-lang'];
/** Notes of a short part: as many as the tunes have. */
const PART_NOTES = 40;
const KEYS = ['F', 'C', 'G', 'A'] as const;
const SPEEDS = [1.1, 1.25, 1.5, 2];
/** Songs that are played faster: the first ones, since each is worked out so often. */
const SPEED_SONGS = 60;

const isOdd = ({ name }: GradeSong): boolean => Number(name) % 2 === 1;
const levelOf = (song: GradeSong): number => melodyOf(song).grade.level;

/** The first notes, whose lines are found anew. */
function firstPart(song: GradeSong): GradeSong {
  return { ...song, notes: song.notes.slice(0, PART_NOTES) };
}

function spreadRow(label: string, levels: readonly number[]): string[] {
  return [
    label,
    String(levels.length),
    ...[0, 0.05, 0.25, 0.5, 0.75, 0.95, 1].map((share) => quantile(levels, share).toFixed(1)),
  ];
}

/** Rank correlation of the grades in two keys, for every two. */
function keysSentence(songs: readonly GradeSong[]): string {
  const melodies = songs.map((song) => melodyOf(song));
  const levels = KEYS.map((key) =>
    melodies.map((melody, i) => {
      const from = { tonic: usualTonic(songs[i]!.tonic, 'major'), mode: 'major' } as const;
      return transposeMelody(melody, moveToTonic(from, key), 'medium').grade.level;
    }),
  );
  const pairs = KEYS.flatMap((a, i) =>
    KEYS.slice(i + 1).map((b, j) => `${a}–${b} ${spearman(levels[i]!, levels[i + 1 + j]!).toFixed(3)}`),
  );
  return `Rank correlation (Spearman) of the grades in two keys, ${melodies.length} melodies: ${pairs.join(', ')}`;
}

/** Songs whose grade falls when they are played faster, all of it worked out anew. */
function speedRow(label: string, songs: readonly GradeSong[]): string[] {
  const levels = songs.map(levelOf);
  const cells = SPEEDS.map((speed) => {
    const changes = songs.map((song, i) => melodyOf(song, 0, speed).grade.level - levels[i]!);
    const fallen = changes.filter((change) => change < -0.05);
    const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
    return `${fallen.length} (${mean >= 0 ? '+' : ''}${mean.toFixed(2)})`;
  });
  return [label, String(songs.length), ...cells];
}

/** The tables, or null where `root` has none of the files. */
export function gradeReport(root: string): string | null {
  const tunes = tunesOf(root);
  const played = playedSongs(root).filter(isOdd);
  const written = writtenSongs(root).filter(isOdd);
  const parts: string[] = [];
  const tuneLevels = tunes.map((song) => ({ name: song.name, level: levelOf(song) }));
  const nursery = tuneLevels.filter(({ name }) => NURSERY_LIKE.some((tune) => name.startsWith(`${tune} `)));
  if (tunes.length > 0) {
    const rows = [...tuneLevels]
      .sort((a, b) => a.level - b.level)
      .map((one) => [one.name, nursery.includes(one) ? 'yes' : '', one.level.toFixed(1)]);
    parts.push(`Rendered tunes\n${alignTable(['tune', 'nursery-like', 'level'], rows)}`);
  }
  const groups = [
    { label: 'pop melodies, as played', songs: played },
    { label: 'pop melodies, as written', songs: written },
    { label: `their first ${PART_NOTES} notes, as written`, songs: written.map(firstPart) },
  ].filter(({ songs }) => songs.length > 0);
  const levels = groups.map(({ songs }) => songs.map(levelOf));
  if (groups.length > 0) {
    const rows = groups.map(({ label }, i) => spreadRow(label, levels[i]!));
    const head = ['songs of odd number', 'songs', 'least', '5 %', '25 %', 'middle', '75 %', '95 %', 'most'];
    parts.push(`Levels\n${alignTable(head, rows)}`);
    const below = levels.map((group) => nursery.filter(({ level }) => level < quantile(group, 0.5)).length);
    parts.push(
      `Of ${nursery.length} recordings of nursery-like tunes, below the middle of the pop melodies in the rows above: ${below.join(', ')}`,
    );
  }
  if (written.length > 0) parts.push(keysSentence([...tunes, ...written]));
  const timed = [
    { label: 'as played, beats found', songs: played },
    { label: 'as written, beats known', songs: written },
  ].filter(({ songs }) => songs.length > 0);
  if (timed.length > 0) {
    const head = ['faster, all worked out anew', 'songs', ...SPEEDS.map((speed) => `× ${speed}`)];
    const rows = timed.map(({ label, songs }) => speedRow(label, songs.slice(0, SPEED_SONGS)));
    parts.push(`Songs whose grade falls, and the mean change of the grade\n${alignTable(head, rows)}`);
  }
  return parts.length === 0 ? null : parts.join('\n\n');
}
