/** The scales of a melody as they are ranked, and the notes by which they differ. */
import { nameParts } from '../../src/theory/tonal-tables.js';
import { withoutOctave, withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { bar, type Point, sheet, stroke, words } from './svg.js';

const RANKED = 6;
const ROW = 74;
const TOP = 256;
/** Columns of the twelve keys of an octave, from C. */
const FIRST_COLUMN = 760;
const COLUMN = 54;
const BAR_LEFT = 330;
/** Height of the bar of the key that is sung longest. */
const HIGHEST = 80;
const BAR_WIDTH = 280;
const NAMES = ['C', 'D♭', 'D', 'E♭', 'E', 'F', 'G♭', 'G', 'A♭', 'A', 'B♭', 'B'];

export function scalesFigure({ melody }: Sound): string {
  const sung = new Float64Array(12);
  for (const { midi, start, end } of melody.notes) sung[midi % 12]! += end - start;
  const most = Math.max(...sung);
  const column = (pc: number) => FIRST_COLUMN + COLUMN * pc;
  const scales = melody.scales.slice(0, RANKED);
  const longest = scales[0]!.score;
  const rows = scales.map(({ tonic, mode, score, notes }, i) => {
    const y = TOP + ROW * i;
    const held = new Set(notes.map((name) => nameParts(name)!.pitchClass));
    const cells = Array.from({ length: 12 }, (_, pc): string => {
      const at: Point = [column(pc), y];
      if (held.has(pc)) return circle(at, sung[pc]! > 0);
      return sung[pc]! > 0 ? cross(at) : '';
    });
    return (
      words(BAR_LEFT - 16, y + 9, `${withSigns(tonic)} ${mode}`, { anchor: 'end' }) +
      bar(BAR_LEFT, y - 18, (BAR_WIDTH * score) / longest, 36, 'fill-blue') +
      words(BAR_LEFT + (BAR_WIDTH * score) / longest + 10, y + 9, `${Math.round(100 * score)} %`) +
      cells.join('')
    );
  });
  const names = [...new Set(melody.notes.map(({ name }) => withSigns(withoutOctave(name))))];
  return sheet(
    TOP + ROW * RANKED + 30,
    'Scales, ranked',
    `Six scales, best first, each with a bar for its probability: ${scales
      .map(({ tonic, mode, score }) => `${withSigns(tonic)} ${mode} ${Math.round(100 * score)} per cent`)
      .join(
        ', ',
      )}. Beside each, under the twelve keys of an octave, which of them it holds, sung or not. Sung are ${names.join(', ')}.`,
    [
      words(BAR_LEFT, 40, 'probability', { bold: true }),
      words(column(0) - 20, 40, 'seconds that each key is sung', { bold: true }),
      ...Array.from(sung, (seconds, pc) =>
        seconds > 0
          ? bar(
              column(pc) - 16,
              168 - (HIGHEST * seconds) / most,
              32,
              (HIGHEST * seconds) / most,
              'fill-grey',
            ) +
            words(column(pc), 158 - (HIGHEST * seconds) / most, seconds.toFixed(1), {
              anchor: 'middle',
              size: 22,
            })
          : '',
      ),
      ...NAMES.map((name, pc) => words(column(pc), 200, name, { anchor: 'middle', bold: sung[pc]! > 0 })),
      ...rows,
      words(
        BAR_LEFT,
        TOP + ROW * RANKED + 4,
        'full: held and sung; ring: held, not sung; cross: sung, not held',
      ),
    ],
  );
}

function circle([x, y]: Point, isFull: boolean): string {
  return `<circle class="ink${isFull ? ' fill-ink' : ''}"${isFull ? '' : ' fill="#fff"'} cx="${x}" cy="${y}" r="13"/>`;
}

function cross([x, y]: Point): string {
  return stroke(`M${x - 12} ${y - 12}l24 24m0 -24l-24 24`, 'ink');
}
