/** Rhythms of one-voice tunes in ABC notation: when notes begin, counted in written lengths. */

export interface WrittenRhythm {
  /** Beats a bar as the time signature has them, and the unit they are counted in. */
  readonly numerator: number;
  readonly denominator: number;
  /** Onsets in sixteenth notes from the first full bar, increasing; negative in a pickup. */
  readonly onsets: readonly number[];
  /** End of the last note, in sixteenth notes. */
  readonly end: number;
}

const TOKEN = /\|+|\(3|z[\d/]*|[_^=]*[A-Ga-g][,']*(\d*)(\/*)(\d*)|-/g;

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
        .join(' ');
      const rhythm = readMusic(music, 16 / Number(unit[1]));
      if (rhythm === null) return [];
      return [{ numerator: Number(metre[1]), denominator: Number(metre[2]), ...rhythm }];
    });
}

function readMusic(music: string, sixteenths: number): { onsets: number[]; end: number } | null {
  const onsets: number[] = [];
  let at = 0;
  let firstBar: number | null = null;
  let isTied = false;
  for (const token of music.matchAll(TOKEN)) {
    const text = token[0];
    if (text === '(3') return null;
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
    if (!text.startsWith('z') && !isTied) onsets.push(at);
    isTied = false;
    at += ((count === '' ? 1 : Number(count)) / shortened) * sixteenths;
  }
  if (firstBar === null) return null;
  const start = firstBar;
  if ([...onsets, start].some((onset) => onset % 1 !== 0)) return null;
  return { onsets: onsets.map((onset) => onset - start), end: at - start };
}
