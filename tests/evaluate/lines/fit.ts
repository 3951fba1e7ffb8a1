/**
 * `npx tsx tests/evaluate/lines/fit.ts DIR FOLDER`: fits the weights of src/rhythm/lines/weights.ts and prints them:
 * those of songs to the even songs of DIR/phrases/pop909-phrases.jsonl, both readings counting half, those of a stanza
 * to the even tunes of a folder of ABC files with a line of the song a row (folk-lines.ts).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { clockOf } from '../../../src/rhythm/lines/clock.js';
import { type BoundaryEvidence, boundaryEvidence } from '../../../src/rhythm/lines/evidence.js';
import { fitLogistic } from '../../train/source/logistic.js';
import { folkTunes } from './folk-lines.js';
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

type Answer = 0 | 1 | null;

/** Gathers notes with their answers, then prints the weights. */
function fitter() {
  const inputs: number[][] = [];
  const answers: number[] = [];
  let names: (keyof BoundaryEvidence)[] = [];
  return {
    add({ notes, written }: Pick<PhraseSong, 'notes' | 'written'>, readings: readonly (readonly Answer[])[]) {
      const pitches = notes.map((note) => note.midi);
      const evidence = boundaryEvidence(pitches, clockOf(notes, written), written.beatsPerBar);
      names = Object.keys(evidence[0]!) as (keyof BoundaryEvidence)[];
      for (const reading of readings) {
        reading.forEach((answer, i) => {
          if (i === 0 || answer === null) return;
          inputs.push(names.map((name) => evidence[i]![name]));
          answers.push(answer);
        });
      }
    },
    print(label: string, share: number) {
      const shares = answers.map(() => share);
      const { weights, bias } = fitLogistic(inputs, answers, shares, PULL);
      const rows = names.map((name, k) => `${name}: ${weights[k]!.toFixed(2)},`);
      console.log([label, ...rows, `bias: ${bias.toFixed(2)}`].join('\n'));
    },
  };
}

const isEven = (_: unknown, i: number) => i % 2 === 0;
const [root, folder] = process.argv.slice(2);
if (root === undefined || folder === undefined)
  throw new Error('Give the folder of songs and one of ABC files.');

const songs = fitter();
const path = join(root, PHRASES_FILE);
for (const song of readPhraseSongs(readFileSync(path, 'utf8'), path).filter(isEven)) {
  const starts = song.readings.map((reading) => reading.map((phrase) => phrase.start));
  songs.add(
    song,
    starts.map((marked) => answersOf(song, marked)),
  );
}
songs.print('songs', 0.5);

const stanzas = fitter();
for (const tune of folkTunes(folder).filter(isEven)) {
  stanzas.add(tune, [tune.notes.map((_, i) => (tune.lineStarts.includes(i) ? 1 : 0))]);
}
stanzas.print('stanzas', 1);
