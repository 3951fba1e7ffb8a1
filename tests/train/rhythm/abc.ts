/** One-voice tunes in ABC notation: when notes begin, counted in written lengths, and their pitches. */

export interface WrittenRhythm {
  /** Beats a bar as the time signature has them, and the unit they are counted in. */
  readonly numerator: number;
  readonly denominator: number;
  /** Onsets in sixteenth notes from the first full bar, increasing; negative in a pickup. */
  readonly onsets: readonly number[];
  /** MIDI pitch of each. */
  readonly midi: readonly number[];
  /** End of the last note, in sixteenth notes. */
  readonly end: number;
  /** Indices of the first note of every row of text, which in collections of songs is a line of the song. */
  readonly rows: readonly number[];
}

const TOKEN = /\n|\|+|\(3|z[\d/]*|([_^=]*)([A-Ga-g])([,']*)\d*\/*\d*|-/g;
const NATURAL = { C: 60, D: 62, E: 64, F: 65, G: 67, A: 69, B: 71 } as const;
type Letter = keyof typeof NATURAL;
/** Letters in the order in which key signatures sharpen them; flats come from the other end. */
const SHARPENED = 'FCGDAEB';
/** Major keys from seven flats to seven sharps. */
const KEYS = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];

/** The tunes of a file whose rhythm is on sixteenths throughout, with one time signature. */
export function rhythmsOf(abc: string): WrittenRhythm[] {
  return abc
    .split(/^X:/m)
    .slice(1)
    .flatMap((tune) => {
      const metre = /^M:\s*(\d+)\/(\d+)/m.exec(tune);
      const unit = /^L:\s*1\/(\d+)/m.exec(tune);
      if (metre === null || unit === null || (tune.match(/^M:/gm) ?? []).length > 1) return [];
      const music = tune
        .split('\n')
        .slice(1)
        .filter((line) => !/^[A-Za-z]:|^%/.test(line.trim()))
        .join('\n');
      const key = /^K:\s*([A-G][b#]?)/m.exec(tune)?.[1] ?? 'C';
      const rhythm = readMusic(music, 16 / Number(unit[1]), signature(key));
      if (rhythm === null) return [];
      return [{ numerator: Number(metre[1]), denominator: Number(metre[2]), ...rhythm }];
    });
}

/** Semitones by which the signature of a major key moves a letter. */
function signature(key: string): (letter: Letter) => number {
  const sharps = KEYS.indexOf(key) - KEYS.indexOf('C');
  return (letter) => {
    const place = SHARPENED.indexOf(letter);
    if (sharps > 0) return place < sharps ? 1 : 0;
    return place >= SHARPENED.length + sharps ? -1 : 0;
  };
}

function midiOf(
  accidental: string,
  letter: string,
  octave: string,
  signed: (letter: Letter) => number,
): number {
  const upper = letter.toUpperCase() as Letter;
  const own = accidental.split('^').length - accidental.split('_').length;
  const high = letter === upper ? 0 : 12;
  const moved = 12 * (octave.split("'").length - octave.split(',').length);
  return NATURAL[upper] + high + moved + (accidental === '' ? signed(upper) : own);
}

function readMusic(
  music: string,
  sixteenths: number,
  signed: (letter: Letter) => number,
): { onsets: number[]; midi: number[]; end: number; rows: number[] } | null {
  const onsets: number[] = [];
  const midi: number[] = [];
  const rows = [0];
  let at = 0;
  let firstBar: number | null = null;
  let isTied = false;
  for (const token of music.matchAll(TOKEN)) {
    const text = token[0];
    if (text === '(3') return null;
    if (text === '\n') {
      if (onsets.length > rows.at(-1)!) rows.push(onsets.length);
      continue;
    }
    if (text.startsWith('|')) {
      if (at > 0) firstBar ??= at;
      continue;
    }
    if (text === '-') {
      isTied = true;
      continue;
    }
    const [, count, slashes, divisor] = /(\d*)(\/*)(\d*)$/.exec(text)!;
    const shortened = divisor === '' ? 2 ** slashes!.length : Number(divisor);
    if (!text.startsWith('z') && !isTied) {
      onsets.push(at);
      midi.push(midiOf(token[1]!, token[2]!, token[3]!, signed));
    }
    isTied = false;
    at += ((count === '' ? 1 : Number(count)) / shortened) * sixteenths;
  }
  if (firstBar === null) return null;
  if (rows.at(-1)! === onsets.length) rows.pop();
  const start = firstBar;
  if ([...onsets, start].some((onset) => onset % 1 !== 0)) return null;
  return { onsets: onsets.map((onset) => onset - start), midi, end: at - start, rows };
}
