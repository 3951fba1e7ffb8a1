/** The pitch curve with the written notes as steps: a plot for checking doubtful places, as SVG. */
import type { Melody, MelodyNote } from '../../melody.js';
import type { PitchTrack } from '../../pitch/types.js';
import { noteName } from '../../theory/pitch-names.js';
import { isDoubtful } from '../doubtful.js';
import { fixed } from '../numbers.js';
import { escaped, withSigns } from '../sheet/names.js';
import { heardPath, writtenPath } from './plot-curve.js';
import { type Axis, axis, ticks } from './plot-scale.js';

/** Tenths of a millimetre: as wide as the text of an A4 or Letter page. */
const WIDTH = 1800;
const HEIGHT = 460;
const LEFT = 130;
const RIGHT = 20;
const TOP = 30;
const BOTTOM = 90;
const HEAD = 160;
/** Heights of digits, and the least distance between two of them. */
const TEXT = 28;
/** Seconds shown before the first note and after the last. */
const AROUND_SECONDS = 0.4;
/** Semitones shown below the lowest note and above the highest. */
const AROUND_SEMITONES = 2;
const MOST_TIME_TICKS = 14;

const STYLE =
  'text{font-family:sans-serif;fill:#000;stroke:none}.frame,.grid{fill:none;stroke:#000;stroke-width:2}.grid{stroke:#bbb;stroke-width:1}.heard{fill:none;stroke:#0b5cad;stroke-width:5;stroke-linecap:round;stroke-linejoin:round}.written,.other{fill:none;stroke:#000;stroke-width:4}.other{stroke:#b3261e;stroke-dasharray:12 8}.doubt{fill:#b3261e;font-weight:bold}';

/** What the plot shows, in words. */
export function plotCaption({ tuningCents }: Pick<Melody, 'tuningCents'>): string {
  const cents = Math.round(tuningCents);
  const tuning = cents === 0 ? '' : ` (${Math.abs(cents)} cents of tuning taken out)`;
  return `Curve: pitch as heard${tuning}. Steps: the notes as written. Dashes with a question mark: another key that it may have been.`;
}

/** The plot of one line of the song, without styles: those of the page, or of `melodyPlot`. */
export function linePlot(melody: Melody, track: PitchTrack, number: number): string {
  return `<svg class="plot" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Pitch over time in line ${number}. ${plotCaption(melody)}">${panel(melody, track, number)}</svg>`;
}

/**
 * All lines of the song under each other, as an SVG file that needs nothing else.
 * @param title comes from outside
 */
export function melodyPlot(melody: Melody, track: PitchTrack, title: string): string {
  const lines = [...new Set(melody.notes.map(({ line }) => line))];
  const block = HEIGHT + TEXT + 20;
  const height = HEAD + lines.length * block;
  const caption = plotCaption(melody)
    .split(/(?<=\.) (?=Dashes)/)
    .map((words, i) => `<text x="${LEFT}" y="${90 + 36 * i}" font-size="${TEXT}">${words}</text>`);
  const panels = lines.map((number, i) => {
    const y = HEAD + i * block;
    return `<text x="${LEFT}" y="${y + TEXT}" font-size="${TEXT}" font-weight="bold">Line ${number}</text><g transform="translate(0 ${y + TEXT + 10})">${panel(melody, track, number)}</g>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH / 10}mm" height="${height / 10}mm" viewBox="0 0 ${WIDTH} ${height}" role="img"><title>${escaped(title)}: pitch over time</title><style>${STYLE}</style><rect width="${WIDTH}" height="${height}" fill="#fff"/><text x="${LEFT}" y="50" font-size="40" font-weight="bold">${escaped(title)}</text>${caption.join('')}${panels.join('')}</svg>\n`;
}

function panel(melody: Melody, track: PitchTrack, number: number): string {
  const notes = melody.notes.filter(({ line }) => line === number);
  const keys = notes.flatMap(({ midi, other }) => (other === null ? [midi] : [midi, other]));
  const time = axis(
    [notes[0]!.start - AROUND_SECONDS, notes.at(-1)!.end + AROUND_SECONDS],
    [LEFT, WIDTH - RIGHT],
  );
  const pitch = axis(
    [Math.min(...keys) - AROUND_SEMITONES, Math.max(...keys) + AROUND_SEMITONES],
    [HEIGHT - BOTTOM, TOP],
  );
  return [
    grid(time, pitch, melody),
    `<path class="heard" d="${heardPath(track, melody.tuningCents, time, pitch)}"/>`,
    `<path class="written" d="${writtenPath(notes, time, pitch)}"/>`,
    ...notes.flatMap((note) => doubt(note, time, pitch)),
  ].join('');
}

function grid(time: Axis, pitch: Axis, melody: Melody): string {
  const [left, right, top, bottom] = [LEFT, WIDTH - RIGHT, TOP, HEIGHT - BOTTOM];
  const keys = Array.from({ length: pitch.to - pitch.from + 1 }, (_, i) => pitch.from + i);
  const lines = keys.map((key) => `M${left} ${Math.round(pitch.place(key))}H${right}`).join('');
  const names = new Map(melody.notes.map(({ midi, name }) => [midi, name]));
  const keyLabels = labelledKeys(keys, names, pitch).map((key) => {
    const name = withSigns(names.get(key) ?? noteName(key, melody.scales[0]));
    return `<text x="${left - 12}" y="${Math.round(pitch.place(key) + TEXT / 3)}" font-size="${TEXT}" text-anchor="end">${name}</text>`;
  });
  const times = ticks(time, MOST_TIME_TICKS);
  const marks = times.map((t) => `M${Math.round(time.place(t))} ${bottom}v10`).join('');
  const decimals = times.every(Number.isInteger) ? 0 : 1;
  const timeLabels = times.map(
    (t) =>
      `<text x="${Math.round(time.place(t))}" y="${bottom + 12 + TEXT}" font-size="${TEXT}" text-anchor="middle">${fixed(t, decimals)}</text>`,
  );
  return `<path class="grid" d="${lines}"/><path class="frame" d="M${left} ${top}H${right}V${bottom}H${left}Z${marks}"/>${keyLabels.join('')}${timeLabels.join('')}<text x="${(left + right) / 2}" y="${HEIGHT - 12}" font-size="${TEXT}" text-anchor="middle">time in the recording (seconds)</text><text transform="translate(28 ${(top + bottom) / 2})rotate(-90)" font-size="${TEXT}" text-anchor="middle">key (semitones)</text>`;
}

/** Keys that get a name: those of the melody first, then others where there is room. */
function labelledKeys(keys: readonly number[], names: ReadonlyMap<number, string>, pitch: Axis): number[] {
  const labelled: number[] = [];
  for (const key of [...keys.filter((one) => names.has(one)), ...keys]) {
    if (isFree(pitch.place(key), labelled, pitch)) labelled.push(key);
  }
  return labelled;
}

function isFree(place: number, labelled: readonly number[], pitch: Axis): boolean {
  for (const other of labelled) if (Math.abs(pitch.place(other) - place) < TEXT) return false;
  return true;
}

/** The other key that a note may have been, and a question mark over it. */
function doubt(note: MelodyNote, time: Axis, pitch: Axis): string[] {
  if (!isDoubtful(note)) return [];
  const [start, end] = [Math.round(time.place(note.start)), Math.round(time.place(note.end))];
  const highest = Math.round(pitch.place(Math.max(note.midi, note.other ?? note.midi)));
  const other =
    note.other === null
      ? ''
      : `<path class="other" d="M${start} ${Math.round(pitch.place(note.other))}H${end}"/>`;
  return [
    `${other}<text class="doubt" x="${(start + end) / 2}" y="${highest - 10}" font-size="34" text-anchor="middle">?</text>`,
  ];
}
