/** Where a bar may begin: how well each place suits the melody. */
import { barLineScores } from '../../src/rhythm/bars/bar-line.js';
import { axis } from '../../src/write/plot/plot-scale.js';
import type { Sound } from './sounds.js';
import { across, bar, sheet, stroke, words } from './svg.js';

const LEFT = 150;
const RIGHT = 1400;
const TOP = 110;
const BOTTOM = 400;
const WIDTH = 60;
/** Sixteenths in a beat. */
const BEAT = 4;

export function barLinesFigure({ melody }: Sound): string {
  const { beatsPerBar, beatUnit } = melody.meter;
  const whole = melody.notes.map((note) => Math.round(BEAT * (beatsPerBar! * note.bar! + note.beat! - 1)));
  const positions = whole.map((position) => position - whole[0]!);
  const midi = melody.notes.map((note) => note.midi);
  const scores = [...barLineScores(positions, midi, beatsPerBar!, beatUnit!)!];
  const [least, most] = [Math.min(...scores), Math.max(...scores)];
  const taken = BEAT * (melody.notes[0]!.beat! - 1);
  if (scores[taken] !== most) throw new Error('the melody has other bars than these scores would give it');
  const places = axis([0, scores.length - 1], [LEFT + WIDTH, RIGHT - WIDTH]);
  const heights = axis([least, most], [10, BOTTOM - TOP]);
  const onBeat = (shift: number) => shift % BEAT === 0;
  const beats = scores.flatMap((score, shift) =>
    onBeat(shift) ? [`beat ${shift / BEAT + 1}: ${score.toFixed(1)}`] : [],
  );
  return sheet(
    BOTTOM + 100,
    'Where the bar begins',
    `Twelve bars for the places, sixteenth by sixteenth, at which the first note may stand in its bar: the higher, the better the whole melody suits that. ${beats.join('; ')}. The highest is that of beat ${taken / BEAT + 1}.`,
    [
      words(30, 40, 'how well each place for the first note suits the melody (log odds)', {
        bold: true,
      }),
      ...scores.map((score, shift) => {
        const x = places.place(shift);
        const height = heights.place(score);
        const fill = shift === taken ? 'fill-blue' : onBeat(shift) ? 'fill-grey' : 'shade-1';
        return (
          bar(x - WIDTH / 2, BOTTOM - height, WIDTH, height, fill) +
          words(x, BOTTOM - height - 14, score.toFixed(1).replace('-', '−'), {
            anchor: 'middle',
            bold: shift === taken,
          })
        );
      }),
      stroke(across(LEFT, RIGHT, BOTTOM), 'grey'),
      ...scores.map((_, shift) =>
        onBeat(shift)
          ? words(places.place(shift), BOTTOM + 40, `beat ${shift / BEAT + 1}`, {
              anchor: 'middle',
              bold: shift === taken,
            })
          : '',
      ),
      words((LEFT + RIGHT) / 2, BOTTOM + 80, 'place of the first note in its bar, in sixteenths', {
        anchor: 'middle',
      }),
    ],
  );
}
