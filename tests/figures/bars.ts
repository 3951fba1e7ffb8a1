/** Beats, bar lines and lines of the song on the notes of a whole recording. */
import { withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { across, clock, frame, panel, rulers, sheet, stroke, upright, words } from './svg.js';

const AROUND_SECONDS = 0.3;

export function barsFigure({ melody }: Sound): string {
  const { notes, lines, tempo, meter } = melody;
  const midis = notes.map(({ midi }) => midi);
  const p = panel(
    [notes[0]!.start - AROUND_SECONDS, notes.at(-1)!.end + AROUND_SECONDS],
    [Math.min(...midis) - 2, Math.max(...midis) + 1],
    [110, 560],
  );
  const inside = tempo.beats.filter((beat) => beat > p.time.from && beat < p.time.to);
  const bar = meter.beatsPerBar!;
  const first = tempo.beats.findIndex((beat) => Math.abs(beat - meter.firstDownbeat!) < 1e-6);
  const number = (beat: number) => tempo.beats.indexOf(beat) - first;
  const isDownbeat = (beat: number) => number(beat) % bar === 0;
  const uprights = (beats: readonly number[]) =>
    beats.map((beat) => upright(p.time.place(beat), p.top, p.bottom)).join('');
  return sheet(
    740,
    'Beats, bars and lines',
    `The ${notes.length} notes of a song as level strokes on their keys. Thin upright lines are beats, thick ones bar lines every ${bar} beats, numbered above. Under each note stands its length in beats. Brackets below join the notes of each of the ${lines.length} lines of the song; the first begins with a note before the first bar line.`,
    [
      rulers(p, new Map(notes.map(({ midi, name }) => [midi, withSigns(name)]))),
      stroke(uprights(inside.filter((beat) => !isDownbeat(beat))), 'faint'),
      stroke(uprights(inside.filter(isDownbeat)), 'ink'),
      ...inside
        .filter(isDownbeat)
        .map((beat) =>
          words(p.time.place(beat), p.top - 14, String(number(beat) / bar + 1), { anchor: 'middle' }),
        ),
      stroke(
        notes
          .map(({ start, end, midi }) => across(p.time.place(start), p.time.place(end), p.value.place(midi)))
          .join(''),
        'blue',
      ),
      ...notes.map(({ start, end, midi, beats }) =>
        words(p.time.place((start + end) / 2), p.value.place(midi) + 38, String(beats), {
          anchor: 'middle',
          size: 22,
        }),
      ),
      ...lines.map(({ start, end }, i) => {
        const [from, to] = [p.time.place(start), p.time.place(end)];
        const y = p.bottom + 96;
        return (
          stroke(`${upright(from, y - 12, y)}H${Math.round(to)}V${y - 12}`, 'ink') +
          words((from + to) / 2, y + 34, `line ${i + 1}`, { anchor: 'middle' })
        );
      }),
      words(p.left, 40, 'thin: beats; thick: bar lines, with numbers; under a note: its length in beats', {
        bold: true,
      }),
      frame(p, ''),
      clock(p),
    ],
  );
}
