import { expect, test } from 'vitest';
import { rankNamedNotes } from '../../src/theory/named-notes.js';

const names = (midis: readonly number[], count: number) =>
  rankNamedNotes(midis)
    .slice(0, count)
    .map(({ tonic, mode }) => `${tonic} ${mode}`);

test('scales that lack one of a few notes come after those that hold them all', () => {
  for (const midis of [
    [71, 61, 62, 66],
    [65, 67, 69, 60, 62],
    [60, 64, 67],
  ]) {
    const ranked = rankNamedNotes(midis).slice(0, 4);
    expect(ranked.map(({ outside }) => outside)).toEqual([[], [], [], []]);
  }
  expect(names([57, 59, 60, 62, 64, 65, 68], 1)).toEqual(['A harmonic minor']);
});

test('the order of the names hardly matters', () => {
  expect(names([65, 67, 69, 60, 62], 2)).toEqual(['F major', 'D minor']);
  expect(names([69, 60, 62, 65, 67], 2)).toEqual(['F major', 'D minor']);
});

test('numbers are those of the notes as they were named', () => {
  const [c] = rankNamedNotes([60, 64, 66, 67, 60, 62, 65, 69, 71], { tonic: 'C', mode: 'major' });
  expect(c?.outsideAt).toEqual([{ name: 'F#', numbers: [3], doubtful: [], nextTo: ['F', 'G'] }]);
  expect(c?.decidersAt.find(({ name }) => name === 'F')?.numbers).toEqual([7]);
});
