/** The values of options, read strictly: each error names the option, the value, what is allowed and an example. */
import { UsageError } from '../errors.js';
import type { Finger } from '../hand/types.js';
import { BAR_BEATS, TEMPO_BPM } from '../write/limits.js';
import { listed } from '../write/listed.js';

export function wrongValue(option: string, value: string, wanted: string, example: string): UsageError {
  return new UsageError(
    `${option} takes ${wanted}, not ${value === '' ? 'nothing' : value}: write it as in ${option} ${example}.`,
  );
}

/** Seconds of `83`, `83.5`, `1:23.5` or `1:02:03`. */
export function parseTime(option: string, text: string): number {
  const parts = /^(?:(?:(\d+):)?(\d+):)?(\d+(?:\.\d*)?)$/.exec(text);
  const [hours, minutes, seconds] = [1, 2, 3].map((i) =>
    parts?.[i] === undefined ? null : Number(parts[i]),
  );
  const fits = (minutes === null || seconds! < 60) && (hours === null || minutes! < 60);
  if (parts === null || !fits) {
    throw wrongValue(option, text, 'a time in minutes and seconds, or in seconds', '1:23.5');
  }
  return (hours ?? 0) * 3600 + (minutes ?? 0) * 60 + seconds!;
}

export function parseBpm(option: string, text: string): number {
  const bpm = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (!(bpm >= TEMPO_BPM.least && bpm <= TEMPO_BPM.most)) {
    throw wrongValue(
      option,
      text,
      `a tempo from ${TEMPO_BPM.least} to ${TEMPO_BPM.most} beats a minute`,
      '92',
    );
  }
  return bpm;
}

/** A finger, 1 (thumb) to 5. */
export function parseFinger(option: string, text: string): Finger {
  if (!/^[1-5]$/.test(text)) throw wrongValue(option, text, 'a finger, 1 (thumb) to 5', '1');
  return Number(text) as Finger;
}

/** The beats of a bar, and what note a beat is. */
export interface Meter {
  readonly beatsPerBar: number;
  readonly beatUnit: 4 | 8;
}

/** `3` and `3/4` are three quarters, `6/8` is six eighths, `2/2` is four quarters. */
export function parseMeter(option: string, text: string): Meter {
  const [, count, unit] = /^(\d+)(?:\/([248]))?$/.exec(text) ?? [];
  const eighths = unit === '8';
  const beatsPerBar = unit === '2' ? 2 * Number(count) : Number(count);
  if (!(beatsPerBar >= (eighths ? 2 : 1) && beatsPerBar <= BAR_BEATS.most)) {
    const wanted = `the beats of a bar (1 to ${BAR_BEATS.most}) or a time signature in halves, quarters or eighths`;
    throw wrongValue(option, text, wanted, '3/4');
  }
  return { beatsPerBar, beatUnit: eighths ? 8 : 4 };
}

/** A parser for an option that takes a whole number from `least` to `most`. */
export function parseWhole(
  least: number,
  most: number,
  example = String(least),
): (option: string, text: string) => number {
  return (option, text) => {
    const number = /^\d+$/.test(text) ? Number(text) : Number.NaN;
    if (!(number >= least && number <= most)) {
      throw wrongValue(option, text, `a whole number from ${least} to ${most}`, example);
    }
    return number;
  };
}

/** The number of a line of a melody. */
export function parseLine(option: string, text: string): number {
  if (!/^[1-9]\d{0,4}$/.test(text)) throw wrongValue(option, text, 'the number of a line, from 1', '3');
  return Number(text);
}

/** A parser for an option that takes one of a few words. */
export function oneOf<T extends string>(words: readonly T[]) {
  const parse = (option: string, text: string): T => {
    const word = words.find((w) => w === text.toLowerCase());
    if (word === undefined) throw wrongValue(option, text, listed(words, 'or'), words[0]!);
    return word;
  };
  return Object.assign(parse, { choices: words });
}

/** A name for something to write: `-` and what looks like a forgotten name are refused. */
export function parsePath(option: string, text: string): string {
  if (text === '') throw new UsageError(`${option} needs a name after it, and that is empty: give one.`);
  if (text.startsWith('-')) {
    throw new UsageError(
      `${option} needs a name after it and found ${text}: a name that starts with - is written ./${text}.`,
    );
  }
  return text;
}
