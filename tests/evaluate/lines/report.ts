/** Starts of lines and sections against phrases marked by hand, beside published boundary models. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { sectionsOf } from '../../../src/rhythm/form/sections.js';
import { linesOf } from '../../../src/rhythm/lines/lines.js';
import { alignTable } from '../report.js';
import { exactF, readMadeTunes } from './made-tunes.js';
import { type MarkedPhrase, PHRASES_FILE, type PhraseSong, readPhraseSongs } from './phrase-songs.js';
import {
  startsByGrouper,
  startsByLbdm,
  startsByRests,
  startsByRestsAndLongNotes,
} from './published-models.js';
import { type StartScores, scoreBetterReading } from './start-scores.js';

/** Indices of the notes that begin something. */
type Model = (song: PhraseSong) => readonly number[];
type Target = (marked: readonly MarkedPhrase[]) => readonly number[];

const everyPhrase: Target = (marked) => marked.map((phrase) => phrase.start);
/** Phrases in a row with the same letter are one part. */
const everyPart: Target = (marked) =>
  marked.flatMap((phrase, i) => (phrase.letter === marked[i - 1]?.letter ? [] : [phrase.start]));

function beatSeconds({ notes, written }: PhraseSong): number {
  return (notes[0]!.end - notes[0]!.start) / written.places[0]!.beats!;
}

function scoresOf(songs: readonly PhraseSong[], model: Model, target: Target): StartScores[] {
  return songs.map((song) => scoreBetterReading(song.onsets, model(song), song.readings.map(target)));
}

function meanOf(scores: readonly StartScores[], key: keyof StartScores): number {
  return scores.reduce((sum, score) => sum + score[key], 0) / scores.length;
}

const isEven = (_: unknown, i: number): boolean => i % 2 === 0;
const isOdd = (_: unknown, i: number): boolean => i % 2 === 1;

/** The model whose setting gives the best mean F on the even songs, with the setting. */
function bestSetting(
  songs: readonly PhraseSong[],
  settings: readonly number[],
  modelFor: (setting: number) => Model,
): { readonly model: Model; readonly setting: number } {
  const even = songs.filter(isEven);
  const tried = settings.map((setting) => ({
    model: modelFor(setting),
    setting,
    f: meanOf(scoresOf(even, modelFor(setting), everyPhrase), 'f'),
  }));
  return tried.reduce((best, own) => (own.f > best.f ? own : best));
}

function cells(label: string, songs: readonly PhraseSong[], model: Model, target: Target): string[] {
  const scores = scoresOf(songs, model, target);
  const halves = [scores, scores.filter(isOdd)];
  const keys = ['precision', 'recall', 'f', 'ratio'] as const;
  return [label, ...halves.flatMap((half) => keys.map((key) => meanOf(half, key).toFixed(3)))];
}

/** First notes of the sections; `parts`: only where the letter changes. */
function sectionNotes({ notes, written }: PhraseSong, withBars: boolean, parts: boolean): number[] {
  const places = withBars ? written : null;
  const lines = linesOf(notes, places);
  return sectionsOf(lines, notes, places)
    .filter((section, i, all) => !parts || section.letter !== all[i - 1]?.letter)
    .map((section) => lines[section.first - 1]!.first - 1);
}

function phrasesTable(songs: readonly PhraseSong[]): string {
  const rests = bestSetting(
    songs,
    [0.5, 1, 1.5, 2, 2.5, 3],
    (beats) => (song) => startsByRests(song.notes, beatSeconds(song), beats),
  );
  const long = bestSetting(
    songs,
    [1.5, 2, 2.5, 3, 4, 5],
    (beats) => (song) => startsByRestsAndLongNotes(song.notes, beatSeconds(song), beats),
  );
  const lbdm = bestSetting(
    songs,
    [1, 1.5, 2, 2.5, 3, 3.5],
    (deviations) => (song) => startsByLbdm(song.notes, beatSeconds(song), deviations),
  );
  const phases = (song: PhraseSong): number[] => song.onsets.map((onset) => (onset % 16) / 16);
  const grouper = bestSetting(
    songs,
    [10, 15, 20, 25, 30],
    (preferred) => (song) => startsByGrouper(song.notes, preferred, phases(song)),
  );
  const lines: Model = (song) => linesOf(song.notes, song.written).map((line) => line.first - 1);
  const freeLines: Model = (song) => linesOf(song.notes).map((line) => line.first - 1);
  const body = [
    cells(`rests of ${rests.setting} beats or more`, songs, rests.model, everyPhrase),
    cells(`rests and notes of ${long.setting} beats or more`, songs, long.model, everyPhrase),
    cells(`LBDM, peaks over mean + ${lbdm.setting} deviations`, songs, lbdm.model, everyPhrase),
    cells(
      'Grouper with metre, 10 notes as published',
      songs,
      (s) => startsByGrouper(s.notes, 10, phases(s)),
      everyPhrase,
    ),
    cells(`Grouper with metre, ${grouper.setting} notes`, songs, grouper.model, everyPhrase),
    cells('lines', songs, lines, everyPhrase),
    cells('lines, bars unknown', songs, freeLines, everyPhrase),
    cells('sections', songs, (s) => sectionNotes(s, true, false), everyPhrase),
    cells('sections, bars unknown', songs, (s) => sectionNotes(s, false, false), everyPhrase),
    cells('changes of letter, both sides', songs, (s) => sectionNotes(s, true, true), everyPart),
  ];
  return alignTable(['starts', 'P', 'R', 'F', 'per phrase', 'odd P', 'odd R', 'odd F', 'per phrase'], body);
}

/**
 * The table of starts, or null where `root` has none of the files. Settings and weights were chosen on the even
 * songs; the odd ones are apart in the last columns. Means over songs, each against the reading that agrees better.
 */
export function linesReport(root: string): string | null {
  const path = join(root, PHRASES_FILE);
  const made = readMadeTunes(root);
  const parts: string[] = [];
  if (existsSync(path)) {
    const songs = readPhraseSongs(readFileSync(path, 'utf8'), path);
    parts.push(`Phrases marked by hand, ${songs.length} songs\n${phrasesTable(songs)}`);
  }
  if (made.length > 0) {
    const mean = (withBars: boolean): string => {
      const fs = made.map(({ notes, written, lineStarts }) =>
        exactF(
          linesOf(notes, withBars ? written : null).map((line) => line.first - 1),
          lineStarts,
        ),
      );
      return (fs.reduce((sum, f) => sum + f, 0) / fs.length).toFixed(3);
    };
    parts.push(
      `Line starts of ${made.length} rendered traditional tunes, true notes, same note: F ${mean(true)} with bars, ${mean(false)} without`,
    );
  }
  return parts.length === 0 ? null : parts.join('\n\n');
}
