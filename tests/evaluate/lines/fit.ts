/**
 * `npx tsx tests/evaluate/lines/fit.ts DIR`: fits the weights of src/rhythm/lines/weights.ts to the even songs of
 * DIR/phrases/pop909-phrases.jsonl, both readings counting half, and prints them.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { clockOf } from '../../../src/rhythm/lines/clock.js';
import { type BoundaryEvidence, boundaryEvidence } from '../../../src/rhythm/lines/evidence.js';
import { fitLogistic } from '../../train/source/logistic.js';
import { PHRASES_FILE, type PhraseSong, readPhraseSongs } from './phrase-songs.js';

/** Pull of the weights towards 0. */
const PULL = 1;

/** Notes within half a bar of a marked bar line may be its phrase's first. */
const NEAR_SIXTEENTHS = 8;

/** A sixteenth farther from the bar line counts as this many sixteenths less of onset interval. */
const FARTHER = 0.02;

/**
 * For every note 1 where a marked phrase begins, 0 where none does, null where that is unsure: of the notes near
 * a marked bar line the one after the longest onset interval is the first, and the others are left out.
 */
function answersOf({ onsets }: PhraseSong, marked: readonly number[]): (0 | 1 | null)[] {
  const answers: (0 | 1 | null)[] = onsets.map(() => 0);
  for (const line of marked) {
    const near = onsets.flatMap((onset, i) => (Math.abs(onset - line) <= NEAR_SIXTEENTHS ? [i] : []));
    const merit = (i: number) =>
      (i === 0 ? Number.POSITIVE_INFINITY : onsets[i]! - onsets[i - 1]!) -
      FARTHER * Math.abs(onsets[i]! - line);
    const after = onsets.findIndex((onset) => onset >= line);
    const first = near.length > 0 ? near.reduce((best, i) => (merit(i) > merit(best) ? i : best)) : after;
    for (const i of near) if (answers[i] !== 1) answers[i] = null;
    if (first >= 0) answers[first] = 1;
  }
  return answers;
}

const inputs: number[][] = [];
const answers: number[] = [];
let names: (keyof BoundaryEvidence)[] = [];
const path = join(process.argv[2] ?? '.', PHRASES_FILE);
readPhraseSongs(readFileSync(path, 'utf8'), path).forEach((song, index) => {
  if (index % 2 === 1) return;
  const clock = clockOf(song.notes, song.written);
  const evidence = boundaryEvidence(
    song.notes.map((note) => note.midi),
    clock,
    song.written.beatsPerBar,
  );
  names = Object.keys(evidence[0]!) as (keyof BoundaryEvidence)[];
  for (const reading of song.readings) {
    answersOf(
      song,
      reading.map((phrase) => phrase.start),
    ).forEach((answer, i) => {
      if (i === 0 || answer === null) return;
      inputs.push(names.map((name) => evidence[i]![name]));
      answers.push(answer);
    });
  }
});
const { weights, bias } = fitLogistic(
  inputs,
  answers,
  answers.map(() => 0.5),
  PULL,
);
names.forEach((name, k) => {
  console.log(`${name}: ${weights[k]!.toFixed(2)},`);
});
console.log(`bias ${bias.toFixed(2)}`);
