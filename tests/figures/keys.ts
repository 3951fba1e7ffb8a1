/** From a sung pitch to a key: what each note's pitch is, and where the singer's own keys lie. */
import { noteName } from '../../src/theory/pitch-names.js';
import { withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { sung } from './starts.js';
import { across, clock, curve, frame, panel, sheet, stroke, words } from './svg.js';

/** Notes of the first line that are shown. */
const FIRST = 2;
const LAST = 8;
const AROUND_SECONDS = 0.1;

export function keysFigure({ track, melody }: Sound): string {
  const notes = melody.notes.slice(FIRST, LAST);
  const midis = notes.map(({ midi }) => midi);
  const [low, high] = [Math.min(...midis), Math.max(...midis)];
  const p = panel(
    [notes[0]!.start - AROUND_SECONDS, notes.at(-1)!.end + AROUND_SECONDS],
    [low - 0.7, high + 1.9],
    [50, 640],
  );
  const cents = melody.tuningCents / 100;
  const keys = Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const right = p.right - 4;
  const piano = keys.map((midi) => across(p.left, right, p.value.place(midi)));
  const own = keys.map((midi) => across(p.left, right, p.value.place(midi + cents)));
  return sheet(
    730,
    'From a pitch to a key',
    `The pitch of six hummed notes over time. Grey lines are the keys of a piano, dashed lines the singer's own keys, ${Math.round(melody.tuningCents)} cents above them. A black stroke at each note is its pitch, the median of the curve, which lies near a dashed line; its key is the grey line under that.`,
    [
      stroke(piano.join(''), 'grey', 2),
      stroke(own.join(''), 'orange', 3),
      ...keys.map((midi) =>
        words(p.left - 12, p.value.place(midi) + 9, withSigns(noteName(midi, melody.scales[0])), {
          anchor: 'end',
        }),
      ),
      curve(sung(track, 0, p), 'blue'),
      stroke(
        notes
          .map(({ start, end, pitch }) =>
            across(p.time.place(start), p.time.place(end), p.value.place(pitch)),
          )
          .join(''),
        'thick',
      ),
      ...notes.map(({ start, end, pitch, midi, name }) => {
        const off = Math.round(100 * (pitch - cents - midi));
        const x = p.time.place((start + end) / 2);
        const y = p.value.place(pitch);
        const signed = off > 0 ? `+${off}` : String(off).replace('-', '−');
        return (
          words(x, y - 52, withSigns(name), { anchor: 'middle', bold: true }) +
          words(x, y - 24, signed, { anchor: 'middle', size: 22 })
        );
      }),
      frame(
        p,
        `thin: the piano’s keys; dashes: the singer’s own, ${Math.round(melody.tuningCents)} cents higher; thick: the notes`,
      ),
      clock(p),
    ],
  );
}
