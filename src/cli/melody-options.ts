/** The options of every command that takes a melody: how a recording is heard, and what is known of the music. */
import type { Option } from 'commander';
import { UsageError } from '../errors.js';
import type { Finger, HandSize } from '../hand/types.js';
import type { HearRequest } from '../pipeline/options.js';
import { asWritten, taking } from './command.js';
import { type Meter, oneOf, parseBpm, parseFinger, parseMeter, parseTime } from './values.js';

/** How a recording is heard; null where nothing was said. */
export interface HearingPlan {
  readonly source: HearRequest['source'] | null;
  /** Seconds. */
  readonly from: number | null;
  /** Seconds. */
  readonly to: number | null;
  /** A note name or a frequency, read by pitch-values.ts. */
  readonly lowest: string | null;
  readonly highest: string | null;
}

/** What is known of the music beforehand; null where nothing was said. */
export interface MusicPlan {
  /** Beats a minute. */
  readonly bpm: number | null;
  /** Beats in a bar, and what note a beat is. */
  readonly beatsPerBar: number | null;
  readonly beatUnit: 4 | 8 | null;
  /** Seconds of the first downbeat. */
  readonly downbeat: number | null;
  /** A key name, read by pitch-values.ts. */
  readonly key: string | null;
  readonly hand: HandSize;
  /** Finger of the first note. */
  readonly fromFinger: Finger | null;
}

/** An input, and how a melody is made of it. */
export interface MelodyPlan {
  /** Path of the input, `-` for standard input. */
  readonly input: string;
  readonly hearing: HearingPlan;
  readonly music: MusicPlan;
}

/** The options as the parser gives them. */
export interface GivenHearing {
  readonly source?: HearRequest['source'];
  readonly from?: number;
  readonly to?: number;
  readonly lowest?: string;
  readonly highest?: string;
}

export interface GivenMusic {
  readonly bpm?: number;
  readonly meter?: Meter;
  readonly downbeat?: number;
  readonly key?: string;
  readonly hand?: HandSize;
  readonly fromFinger?: Finger;
}

/** What an input may be, for the help texts. */
export const INPUT_KINDS = 'recording, note list, melody as JSON, or MIDI file; - is standard input';

export const HEARING_HEADING = 'How a recording is heard:';
export const MUSIC_HEADING = 'What is known of the music:';

/** For commands that have no `--from` and `--to` of their own. */
export function hearingOptions(): Option[] {
  const [source, ...limits] = wholeHearingOptions();
  return [
    source!,
    taking('--from <time>', 'start of the part to hear, 1:23.5 or seconds', parseTime),
    taking('--to <time>', 'end of the part to hear', parseTime),
    ...limits,
  ];
}

/** The same without the part. */
export function wholeHearingOptions(): Option[] {
  return [
    taking(
      '--source <kind>',
      'solo: one voice or piano; mix: a voice with a band; auto (default): hear which',
      oneOf(['auto', 'solo', 'mix']),
    ),
    taking('--lowest <note>', 'lowest note to expect, E2 or 82Hz (default 55Hz; mix 82Hz)', asWritten),
    taking('--highest <note>', 'highest note to expect (default 1500Hz; mix 1047Hz)', asWritten),
  ];
}

/** Those that change the fingers only. */
export const HAND_OPTIONS: readonly (string | undefined)[] = ['--hand', '--from-finger'];

export function musicOptions(): Option[] {
  return [
    taking('--bpm <number>', 'beats a minute (default: heard)', parseBpm),
    taking('--meter <meter>', 'beats in a bar: 3, 3/4 or 6/8 (default: heard)', parseMeter),
    taking('--downbeat <time>', 'time of a first beat of a bar (default: heard)', parseTime),
    taking('--key <key>', 'key, "F# minor": notes are spelt for it', asWritten),
    taking(
      '--hand <size>',
      'reach for the fingering: small, medium (default) or large',
      oneOf(['small', 'medium', 'large']),
    ),
    taking('--from-finger <finger>', 'finger of the first note, 1 (thumb) to 5', parseFinger),
  ];
}

/** @throws UsageError for a part that would be empty */
export function hearingPlanOf({ source, from, to, lowest, highest }: GivenHearing): HearingPlan {
  if (to !== undefined && to <= (from ?? 0)) {
    throw new UsageError(
      `--to ${to} s does not lie after ${from === undefined ? 'the start' : `--from ${from} s`}: the part would be empty.`,
    );
  }
  return {
    source: source ?? null,
    from: from ?? null,
    to: to ?? null,
    lowest: lowest ?? null,
    highest: highest ?? null,
  };
}

export function musicPlanOf({ bpm, meter, downbeat, key, hand, fromFinger }: GivenMusic): MusicPlan {
  return {
    bpm: bpm ?? null,
    beatsPerBar: meter?.beatsPerBar ?? null,
    beatUnit: meter?.beatUnit ?? null,
    downbeat: downbeat ?? null,
    key: key ?? null,
    hand: hand ?? 'medium',
    fromFinger: fromFinger ?? null,
  };
}
