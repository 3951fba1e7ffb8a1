/** The form of a song: lines that belong together, and which of them come again. */
import { middleOf } from '../../dsp/median.js';
import { boundaryScores } from '../lines/boundaries.js';
import { clockOf, type LineClock, type LineNote } from '../lines/clock.js';
import { bestDivision } from '../lines/division.js';
import { barsScore, lengthScore } from '../lines/lengths.js';
import { stanzaShare } from '../lines/weights.js';
import type { Line, Section, WrittenNotes } from '../types.js';
import { groupAlike, likeness, type Stretch, stretchOf } from './likeness.js';

/** Most lines in a section. */
const MOST_LINES = 16;

/**
 * What is added to the log odds of a marked phrase at every section, without and with bars; set on the even songs
 * of the pop melodies with marked phrases for the best F of section starts. For a stanza, whose evidence is for lines
 * (../lines/weights.ts), by hand on traditional tunes.
 */
const COARSENESS = { free: -2, written: 0.5, stanza: -3 } as const;

/** Preferred bars of a section (44 % of the marked phrases have eight) and what a doubling away from that costs. */
const BARS = { preferred: 8, doubling: 0.7 } as const;

/** Log odds of a multiple of eight, four and two bars over an odd number; set on the same songs. */
const ROUND_BARS = { eight: 1.2, four: 1, two: 0.2 } as const;

/** Preferred length of a section without bars in median lines, and its spread in doublings; set on the same songs. */
const IN_LINES = { preferred: 4, spreadDoublings: 0.8 } as const;

/** Sections at least so alike (0..1, likeness.ts) have the same letter; set on the same songs. */
const LEAST_LIKENESS = 0.55;

/**
 * What a line brings, in log odds, that comes again together with the whole of its section, and the likeness from
 * which that counts; set on the same songs, where it changes little, and on traditional tunes.
 */
const RETURN = { line: 1, least: 0.6 } as const;

/** In a tune of so few lines in which nothing comes again there is only one section. */
const ONE_SECTION_LINES = 6;

function barsMerit(bars: number): number {
  const round =
    bars % 8 === 0
      ? ROUND_BARS.eight
      : bars % 4 === 0
        ? ROUND_BARS.four
        : bars % 2 === 0
          ? ROUND_BARS.two
          : 0;
  return round - BARS.doubling * Math.abs(Math.log2(bars / BARS.preferred));
}

/** Index of the first line of every section. */
function sectionStarts(
  lines: readonly Line[],
  boundary: Float64Array,
  clock: LineClock,
  pitches: readonly number[],
): number[] {
  const first = (line: number): number => lines[line]!.first - 1;
  const after = (line: number): number => lines[line]!.last;
  const comesAgain = returns(lines.map((line) => stretchOf(pitches, clock, line.first - 1, line.last)));
  const begins = (line: number, added: number): number => (line > 0 ? boundary[first(line)]! + added : 0);
  const stanza = stanzaShare(pitches.length);
  const written = (1 - stanza) * COARSENESS.written + stanza * COARSENESS.stanza;
  const { bar } = clock;
  if (bar !== null) {
    return bestDivision(
      lines.length,
      MOST_LINES,
      (from, to) =>
        begins(from, written) +
        RETURN.line * comesAgain(from, to) +
        barsScore(clock, bar, first(from), after(to - 1), barsMerit),
    );
  }
  const spans = lines.map((line) => line.end - line.start);
  const typical = middleOf(spans)!;
  const sums = [0];
  for (const span of spans) sums.push(sums.at(-1)! + span);
  return bestDivision(
    lines.length,
    MOST_LINES,
    (from, to) =>
      begins(from, COARSENESS.free) +
      RETURN.line * comesAgain(from, to) +
      lengthScore((sums[to]! - sums[from]!) / typical, IN_LINES.preferred, IN_LINES.spreadDoublings),
  );
}

/**
 * For every stretch of lines, how well it comes again as a whole elsewhere, not overlapping itself, times its lines:
 * the likeness of each line with the one as far away, averaged, over the distance that suits best.
 */
function returns(lines: readonly Stretch[]): (from: number, to: number) => number {
  const alike = lines.map((a, i) =>
    lines.slice(0, i).map((b) => {
      const [less, more] = [a.pitches.length, b.pitches.length].sort((x, y) => x - y);
      return less! < RETURN.least * more! ? 0 : likeness(b, a);
    }),
  );
  const between = (i: number, j: number): number => alike[Math.max(i, j)]?.[Math.min(i, j)] ?? 0;
  return (from, to) => {
    let best = 0;
    for (let other = 0; other + to - from <= lines.length; other++) {
      if (Math.abs(other - from) < to - from) continue;
      let sum = 0;
      for (let i = 0; i < to - from; i++) sum += between(from + i, other + i);
      best = Math.max(best, sum / (to - from));
    }
    return ((to - from) * Math.max(best - RETURN.least, 0)) / (1 - RETURN.least);
  };
}

/** A, B, …, Z, AA, AB, …, for 0, 1, …. */
function letterOf(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : letterOf(Math.floor(index / 26) - 1) + last;
}

/**
 * The sections of a song, first to last, every line in exactly one; a section that comes again, in any key or with
 * a few notes changed, has the same letter. Dynamic programming over the starts of lines with the evidence that
 * lines have (../lines/boundaries.ts) and the lengths that sections have; then each section takes the letter of the earlier
 * one it is most like. A short tune in which nothing comes again is one section. Empty for no lines.
 *
 * @param written bars and beats of the notes, or null where no beat is known
 */
export function sectionsOf(
  lines: readonly Line[],
  notes: readonly LineNote[],
  written: WrittenNotes | null = null,
): Section[] {
  if (lines.length === 0) return [];
  const clock = clockOf(notes, written);
  const pitches = notes.map((note) => note.midi);
  const starts = sectionStarts(lines, boundaryScores(notes, written), clock, pitches);
  const lastLines = starts.map((_, i) => (starts[i + 1] ?? lines.length) - 1);
  const groups = groupAlike(
    starts.map((line, i) => stretchOf(pitches, clock, lines[line]!.first - 1, lines[lastLines[i]!]!.last)),
    LEAST_LIKENESS,
  );
  const isPlain = new Set(groups).size === groups.length && lines.length <= ONE_SECTION_LINES;
  if (isPlain) return [{ letter: 'A', first: 1, last: lines.length }];
  return starts.map((line, i) => ({
    letter: letterOf(groups[i]!),
    first: line + 1,
    last: lastLines[i]! + 1,
  }));
}
