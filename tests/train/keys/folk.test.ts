import { describe, expect, test } from 'vitest';
import { tunesOf } from './abc-keys.js';
import { chance } from './chance.js';
import { misheard } from './mishear.js';

/** A scale in D dorian, ours: signature without sharps or flats, twelve notes, the last on the tonic. */
const SCALE = 'X:1\nT:Up and down\nM:4/4\nL:1/4\nK:Ddor\nDEFG|ABcd|cBA/2F/2D|\n';

describe('tunesOf', () => {
  test('reads the mode, and letters by its signature', () => {
    const [tune] = tunesOf(SCALE);
    expect([tune.tonic, tune.mode]).toEqual([2, 'dorian']);
    expect(tune.notes.map((note) => note.midi)).toEqual([62, 64, 65, 67, 69, 71, 72, 74, 72, 71, 69, 65, 62]);
    expect(tune.notes[10].end - tune.notes[10].start).toBe(0.25);
  });

  test('the same letters in D minor have a B flat, in D major F sharp and C sharp', () => {
    const midis = (key: string) => tunesOf(SCALE.replace('Ddor', key))[0].notes.map((note) => note.midi);
    expect(midis('Dm').slice(2, 7)).toEqual([65, 67, 69, 70, 72]);
    expect(midis('D').slice(2, 7)).toEqual([66, 67, 69, 71, 73]);
  });

  test('an accidental holds to the end of its bar', () => {
    const [tune] = tunesOf(SCALE.replace('DEFG|', '^GGFG|G'));
    expect(tune.notes.slice(0, 5).map((note) => note.midi)).toEqual([68, 68, 65, 68, 67]);
  });

  test('leaves out a tune that ends elsewhere, changes its key or is in another mode', () => {
    expect(tunesOf(SCALE.replace('D|\n', 'E|\n'))).toEqual([]);
    expect(tunesOf(`${SCALE}K:G\nG|\n`)).toEqual([]);
    expect(tunesOf(SCALE.replace('Ddor', 'Dphr'))).toEqual([]);
  });
});

test('misheard notes are as often right as their confidence says', () => {
  const notes = Array.from({ length: 4000 }, (_, i) => ({ start: i, end: i + 1, midi: 60 }));
  const heard = misheard(notes, chance(7));
  const mean = heard.reduce((sum, note) => sum + note.confidence, 0) / heard.length;
  const right = heard.filter((note) => note.midi === 60).length / heard.length;
  expect(heard.length).toBeLessThan(notes.length);
  expect(Math.abs(right - mean)).toBeLessThan(0.02);
});
