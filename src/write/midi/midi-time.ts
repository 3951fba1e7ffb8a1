/** The time of a MIDI file: how its ticks, beats and bars lie on the seconds of the melody. */
import type { Melody } from '../../melody.js';
import { beatClock } from '../beat-clock.js';
import { lastAtOrBefore } from '../last-at-or-before.js';
import { BEAT_TOLERANCE, LONGEST_QUARTER, tempoRuns } from './tempo-runs.js';

export interface MidiTime {
  readonly ticksPerQuarter: number;
  /** Whole microseconds a quarter note from a tick on; the first at 0. */
  readonly tempos: readonly { readonly tick: number; readonly microseconds: number }[];
  readonly signatures: readonly TimeSignature[];
  /** Where the melody's beats begin, null where none are written. */
  readonly firstBeat: number | null;
  /** A bar line and the number of its bar, where it is not 1 for the first bar of full length; else null. */
  readonly numbered: { readonly tick: number; readonly bar: number } | null;
  /** Where the melody's beats end, null where none are written. */
  readonly lastBeat: number | null;
  /** The tick nearest to a time from 0 on. */
  readonly tickAt: (seconds: number) => number;
}

export interface TimeSignature {
  readonly tick: number;
  readonly numerator: number;
  /** A power of two. */
  readonly denominator: number;
}

/** Tempo written while the melody's is unknown: the standard's own default, so that seconds stay true. */
const DEFAULT_BPM = 120;
/** Ticks in a quarter note at 60 beats a minute and above: a tick is about a millisecond or less. */
const TICKS_PER_QUARTER = 960;
/** Shortest lead-in, in beats: below, bars of 64ths would be asked for (our choice). */
const SHORTEST_LEAD = 1 / 8;

/**
 * Where the beats are known, each beat is one in the file, to `BEAT_TOLERANCE`. Tick 0 is second 0, so beats before
 * it are left out, and the time up to the first is a lead-in of as many beats as fit it best (a half, quarter or
 * eighth of one where it is shorter), in bars of its own; beats before the first downbeat are a short bar.
 * Where no beats are known, or one is too long for the format, there is one tempo, and no time signature.
 *
 * Ticks are never longer than 1.05 ms, so a rounded one is right to 0.6 ms.
 */
export function midiTime(melody: Pick<Melody, 'tempo' | 'meter' | 'notes'>): MidiTime {
  return beatTime(melody) ?? evenTime(melody);
}

function evenTime({ tempo, meter }: Pick<Melody, 'tempo' | 'meter'>): MidiTime {
  // Tempo in the file counts quarter notes, the melody's counts beats.
  const bpm = (tempo.bpm ?? DEFAULT_BPM) * (4 / (meter.beatUnit ?? 4));
  const tempos = [{ quarter: 0, microseconds: Math.min(Math.round(60e6 / bpm), LONGEST_QUARTER) }];
  return { ...clockOf(tempos), signatures: [], firstBeat: null, numbered: null, lastBeat: null };
}

function beatTime(melody: Pick<Melody, 'tempo' | 'meter' | 'notes'>): MidiTime | null {
  const { beatsPerBar } = melody.meter;
  const beats = beatsOf(melody);
  if (beats === null || beatsPerBar === null || !Number.isInteger(beatsPerBar)) return null;
  const { seconds, position } = beats;
  const unit = melody.meter.beatUnit ?? 4;
  const quarters = 4 / unit;
  const lead = leadBeats(seconds[0]!, seconds[1]! - seconds[0]!);
  const leadMicroseconds = lead === 0 ? 0 : Math.round((seconds[0]! * 1e6) / (lead * quarters));
  const runs = tempoRuns(seconds, (leadMicroseconds * lead * quarters) / 1e6, quarters);
  if (runs === null || leadMicroseconds > LONGEST_QUARTER) return null;
  const clock = clockOf([
    ...(lead === 0 ? [] : [{ quarter: 0, microseconds: leadMicroseconds }]),
    ...runs.map(({ beat, microseconds }) => ({ quarter: (lead + beat) * quarters, microseconds })),
  ]);
  const tick = (beat: number) => beat * quarters * clock.ticksPerQuarter;
  const pickup = ((-position % beatsPerBar) + beatsPerBar) % beatsPerBar;
  const bars = barsOf(lead, pickup, beatsPerBar);
  // Bar 1, or the first whole bar where bar 1 began before second 0.
  const barLine = position <= 0 ? -position : pickup;
  const bar = (position + barLine) / beatsPerBar + 1;
  const isFirst = bar === 1 && bars.find(({ beats }) => beats === beatsPerBar)!.beat === lead + barLine;
  return {
    ...clock,
    signatures: bars.map(({ beat, beats }) => {
      const parts = beats < 1 ? 1 / beats : 1;
      return { tick: tick(beat), numerator: beats * parts, denominator: unit * parts };
    }),
    firstBeat: tick(lead),
    numbered: isFirst ? null : { tick: tick(lead + barLine), bar },
    lastBeat: tick(lead + seconds.length - 1),
  };
}

/**
 * The melody's beats from second 0 on, and the position of the first, counted from the first downbeat. Null where
 * there are fewer than two.
 */
function beatsOf({ tempo, meter, notes }: Pick<Melody, 'tempo' | 'meter' | 'notes'>) {
  const clock = beatClock({ tempo, meter });
  if (clock === null) return null;
  const { beats } = tempo;
  const known = beats.length >= 2;
  const from = known ? Math.round(clock.positionAt(beats[0]!)) : Math.ceil(clock.positionAt(0) - 1e-6);
  const count = known ? beats.length : Math.ceil(clock.positionAt(notes.at(-1)?.end ?? 0)) - from + 2;
  const all = known ? beats : Array.from({ length: count }, (_, i) => clock.secondsAt(from + i));
  const skipped = all.findIndex((time) => time > -BEAT_TOLERANCE);
  const position = from + skipped;
  if (skipped < 0 || skipped > all.length - 2) return null;
  return { seconds: all.slice(skipped), position };
}

/** How many beats the time up to the first one is: whole ones, or a power of a half. */
function leadBeats(seconds: number, beatSeconds: number): number {
  if (seconds <= BEAT_TOLERANCE) return 0;
  const beats = seconds / beatSeconds;
  if (beats >= 1) return Math.round(beats);
  return Math.max(2 ** Math.round(Math.log2(beats)), SHORTEST_LEAD);
}

/** Where bars of another length begin, in beats from the start of the file: the lead-in's, a pickup's, whole ones. */
function barsOf(lead: number, pickup: number, beatsPerBar: number): { beat: number; beats: number }[] {
  const over = lead % beatsPerBar;
  const bars = [
    ...(over === 0 ? [] : [{ beat: 0, beats: over }]),
    ...(lead < beatsPerBar ? [] : [{ beat: over, beats: beatsPerBar }]),
    ...(pickup === 0 ? [] : [{ beat: lead, beats: pickup }]),
    { beat: lead + pickup, beats: beatsPerBar },
  ];
  // Short bars are said one by one, so that each can be told to be one bar.
  return bars.filter(({ beats }, index) => beats < beatsPerBar || beats !== bars[index - 1]?.beats);
}

/** Ticks and seconds of a row of tempos, the first at 0. */
function clockOf(
  changes: readonly { readonly quarter: number; readonly microseconds: number }[],
): Pick<MidiTime, 'ticksPerQuarter' | 'tempos' | 'tickAt'> {
  const slowest = Math.max(...changes.map(({ microseconds }) => microseconds));
  const ticksPerQuarter = TICKS_PER_QUARTER * Math.ceil(slowest / 1e6);
  const starts = [0];
  for (const [index, { quarter, microseconds }] of changes.entries()) {
    const next = changes[index + 1];
    if (next) starts.push(starts[index]! + ((next.quarter - quarter) * microseconds) / 1e6);
  }
  const tempos = changes.map(({ quarter, microseconds }) => ({
    tick: quarter * ticksPerQuarter,
    microseconds,
  }));
  return {
    ticksPerQuarter,
    tempos,
    tickAt: (seconds) => {
      const index = Math.max(lastAtOrBefore(starts, seconds), 0);
      const { tick, microseconds } = tempos[index]!;
      return Math.round(tick + ((seconds - starts[index]!) * 1e6 * ticksPerQuarter) / microseconds);
    },
  };
}
