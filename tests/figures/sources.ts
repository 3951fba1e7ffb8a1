/** Solo or mix: what the four measures of a recording say. */

import { decideSource, SOURCE_INPUTS, type SourceInput, sourceInputs } from '../../src/pitch/source.js';
import { measureSource } from '../../src/pitch/source-measures.js';
import { SOURCE_WEIGHTS } from '../../src/pitch/source-weights.js';
import { axis } from '../../src/write/plot/plot-scale.js';
import type { Graded } from './grades.js';
import { bar, sheet, stroke, upright, words } from './svg.js';

const LEFT = 420;
const RIGHT = 1260;
const TOP = 130;
const ROW = 44;
const BLOCK = 5 * ROW + 50;
const FURTHEST = 6;
const MARKS = [-6, -4, -2, 0, 2, 4, 6];

const WORDS: Readonly<Record<SourceInput, string>> = {
  unexplained: 'not one period alone',
  otherTones: 'other tones',
  below: 'sound below the pitch',
  pauseDb: 'loud pauses',
};

export function sourcesFigure(named: readonly Graded[]): string {
  const scale = axis([-FURTHEST, FURTHEST], [LEFT, RIGHT]);
  const blocks = named.map(({ name, sound: { recording } }, block) => {
    const inputs = sourceInputs(measureSource(recording.samples, recording.sampleRate)!);
    const odds = SOURCE_INPUTS.map((input) => {
      const { weight, middle } = SOURCE_WEIGHTS.inputs[input];
      return { words: WORDS[input], value: weight * (inputs[input] - middle) };
    });
    const sum = odds.reduce((all, { value }) => all + value, SOURCE_WEIGHTS.bias);
    const { source, why } = decideSource(recording);
    const y = TOP + BLOCK * block;
    const row = (i: number, label: string, value: number, isSum: boolean) => {
      const [from, to] = [Math.min(0, value), Math.max(0, value)].map((end) =>
        scale.place(Math.max(-FURTHEST, Math.min(FURTHEST, end))),
      ) as [number, number];
      return (
        words(LEFT - 16, y + ROW * i + 25, label, { anchor: 'end', bold: isSum }) +
        bar(from, y + ROW * i + 4, to - from, ROW - 14, isSum ? 'fill-ink' : 'fill-blue')
      );
    };
    return {
      says: `${name}: ${source}, ${why}`,
      drawn:
        words(30, y - 12, `${name} → ${source}: ${why}`, { bold: true }) +
        odds.map(({ words: label, value }, i) => row(i, label, value, false)).join('') +
        row(odds.length, 'all together', sum, true) +
        stroke(upright(scale.place(0), y - 2, y + 5 * ROW - 4), 'grey'),
    };
  });
  const bottom = TOP + BLOCK * named.length - 40;
  return sheet(
    bottom + 90,
    'Solo or mix',
    `Bars to the left speak for a solo, bars to the right for a mix. ${blocks.map(({ says }) => says).join('; ')}.`,
    [
      words(scale.place(0) - 20, 40, '← a solo', { anchor: 'end' }),
      words(scale.place(0) + 20, 40, 'a mix →'),
      stroke(MARKS.map((value) => upright(scale.place(value), TOP, bottom)).join(''), 'faint'),
      ...blocks.map(({ drawn }) => drawn),
      ...MARKS.map((value) =>
        words(scale.place(value), bottom + 34, String(value).replace('-', '−'), { anchor: 'middle' }),
      ),
      words((LEFT + RIGHT) / 2, bottom + 70, 'logarithm of the odds of a mix', { anchor: 'middle' }),
    ],
  );
}
