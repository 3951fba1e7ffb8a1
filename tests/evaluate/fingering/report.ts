/**
 * Right-hand fingering against printed editions, beside the published rules and a hidden Markov model; scales against
 * the handbook; reach and speed on pop melodies.
 */
import { fingerRightHand } from '../../../src/hand/fingering.js';
import { SCALES } from '../../../src/hand/scale-fingers.js';
import { foldsOf, type Part, readParts } from '../../train/hand/parts.js';
import { alignTable } from '../report.js';
import { crossHits, type Hits, hitsOf, MODELS, rateOf } from './match.js';
import { playableTable } from './playable.js';

const FOLDS = 5;

function family({ book }: Part): string {
  return book.startsWith('Clementi') ? 'Clementi' : book.startsWith('Diabelli') ? 'Diabelli' : 'others';
}

function meanOfParts(hits: readonly Hits[]): number {
  const rates = hits.filter(({ notes }) => notes > 0).map((h) => h.hits / h.notes);
  return rates.reduce((a, b) => a + b, 0) / rates.length;
}

function matchTable(parts: readonly Part[]): string {
  const halves = foldsOf(parts, 2);
  const folds = foldsOf(parts, FOLDS);
  const families = parts.map(family);
  const names = [...new Set(families)];
  const rows = Object.entries(MODELS).map(([label, model]) => {
    const hits = crossHits(parts, folds, model);
    const byHalf = model(parts.filter((_, i) => halves[i] === 0));
    const odd = parts.filter((_, i) => halves[i] === 1).map((part) => hitsOf(part, byHalf(part)));
    const unseenBook = crossHits(parts, families, model);
    const cells = [rateOf(hits), meanOfParts(hits), rateOf(odd), rateOf(unseenBook)];
    const own = names.map((name) => rateOf(hits.filter((_, i) => families[i] === name)));
    return [label, ...[...cells, ...own].map((rate) => rate.toFixed(3))];
  });
  const scored = parts.reduce((sum, part) => sum + hitsOf(part, []).notes, 0);
  const head = ['match rate', 'folds', 'mean of parts', 'odd pieces', 'unseen books', ...names];
  return (
    `Printed right-hand fingers, ${parts.length} parts, ${scored} notes in runs of five and more fingered notes\n` +
    `${alignTable(head, rows)}\n` +
    `folds: ${FOLDS}, by piece; odd pieces: learned from the even ones, on which the settings were chosen; unseen books: ` +
    'learned from the other two of Clementi, Diabelli and the rest.'
  );
}

/** Scales up and down, one octave and two, that come out as the handbook table of src/hand has them. */
function scalesLine(): string {
  const right = SCALES.flatMap((scale) =>
    [1, 2].map((octaves) => {
      const count = 7 * octaves;
      const keys = Array.from(
        { length: count + 1 },
        (_, k) => 48 + scale.tonic + 12 * Math.floor(k / 7) + scale.steps[k % 7]!,
      );
      const fingersOf = (midis: readonly number[]): string =>
        fingerRightHand(
          midis.map((midi, i) => ({ midi, start: i / 2, end: i / 2 + 0.45 })),
          { hand: 'medium' },
        ).join('');
      const cycle = Array.from({ length: count }, (_, k) => scale.fingers[k % 7]).join('');
      const up = fingersOf(keys);
      return up.startsWith(cycle) && [...fingersOf(keys.toReversed())].reverse().join('') === up;
    }),
  );
  return `Scales as in the handbook, up and down: ${right.filter(Boolean).length} of ${right.length}`;
}

/** Null where `root` has no printed fingers. */
export function fingeringReport(root: string): string | null {
  const parts = readParts(root);
  if (parts === null) return null;
  const playable = playableTable(root);
  return [matchTable(parts), scalesLine(), ...(playable === null ? [] : [playable])].join('\n\n');
}
