/** What makes two melodies harder or easier: the parts of their grades. */
import { FEATURES } from '../../src/hand/grade/types.js';
import { axis } from '../../src/write/plot/plot-scale.js';
import type { Sound } from './sounds.js';
import { across, bar, sheet, stroke, upright, words } from './svg.js';

const ROW = 70;
const TOP = 130;
const LEFT = 330;
const RIGHT = 1340;
/** The most that a feature adds, and a little room. */
const MOST = 1.4;

export interface Graded {
  readonly name: string;
  readonly sound: Sound;
}

export function gradesFigure(easy: Graded, hard: Graded): string {
  const scale = axis([0, MOST], [LEFT, RIGHT]);
  const adds = (graded: Graded) =>
    new Map(graded.sound.melody.grade.parts.map((part) => [part.what, part.adds]));
  const [a, b] = [adds(easy), adds(hard)];
  const rows = [...FEATURES].sort((one, other) => b.get(other)! + a.get(other)! - b.get(one)! - a.get(one)!);
  const bottom = TOP + ROW * rows.length;
  const level = ({ name, sound }: Graded) => `${name}: grade ${sound.melody.grade.level}`;
  const marks = [0, 0.2, 0.4, 0.6, 0.8, 1, 1.2];
  return sheet(
    bottom + 60,
    'What makes a grade',
    `Two bars for each of eleven things that are counted: how much it adds to the grade of two melodies. ${level(easy)}; ${level(hard)}. ${rows.map((what) => `${what}: ${a.get(what)!.toFixed(2)} and ${b.get(what)!.toFixed(2)}`).join('; ')}.`,
    [
      bar(LEFT, 24, 40, 24, 'fill-orange'),
      words(LEFT + 54, 46, level(easy)),
      bar(LEFT, 64, 40, 24, 'fill-blue'),
      words(LEFT + 54, 86, level(hard)),
      stroke(marks.map((value) => upright(scale.place(value), TOP - 10, bottom)).join(''), 'faint'),
      ...rows.map((what, i) => {
        const y = TOP + ROW * i;
        return (
          words(LEFT - 16, y + 34, what, { anchor: 'end' }) +
          bar(LEFT, y + 4, scale.place(a.get(what)!) - LEFT, 24, 'fill-orange') +
          bar(LEFT, y + 30, scale.place(b.get(what)!) - LEFT, 24, 'fill-blue')
        );
      }),
      stroke(across(LEFT, RIGHT, bottom), 'grey'),
      ...marks.map((value) => words(scale.place(value), bottom + 34, String(value), { anchor: 'middle' })),
      words(RIGHT + 10, bottom + 34, 'grades'),
    ],
  );
}
