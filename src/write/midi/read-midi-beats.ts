/** What a MIDI file says of beats and bars. */
import type { MidiData, MidiEvent } from 'midi-file';
import { BEAT_SECONDS } from '../check-beats.js';
import { BAR_BEATS, TEMPO_BPM } from '../limits.js';
import { rounded } from '../numbers.js';
import { isSteady } from '../steadiness.js';
import type { ReadNotes } from '../types.js';
import { DEFAULT_TEMPO, tempos } from './midi-clock.js';

/** More beats than this are damage, not music. */
const MOST_BEATS = 100_000;

type BeatFacts = Pick<ReadNotes, 'bpm' | 'beatsPerBar' | 'beatUnit' | 'firstDownbeat' | 'beats'>;

/** Bars on the ticks of a file. */
interface Bars {
  readonly beatsPerBar: number;
  readonly beatUnit: 4 | 8;
  /** Ticks in a beat, which need not be whole. */
  readonly beatTicks: number;
  /** Beat 1 of bar 1; before the first beat where bar 1 began before the file. */
  readonly downbeat: number;
}

/** The events of one kind in all tracks, in order. */
export function eventsOf<T extends MidiEvent['type']>(
  data: MidiData,
  type: T,
): { tick: number; event: Extract<MidiEvent, { type: T }> }[] {
  return data.tracks
    .flatMap((track) => {
      let tick = 0;
      return track.map((event) => {
        tick += event.deltaTime;
        return { tick, event };
      });
    })
    .filter(
      (item): item is { tick: number; event: Extract<MidiEvent, { type: T }> } => item.event.type === type,
    )
    .sort((a, b) => a.tick - b.tick);
}

/**
 * Bars from the time signature, where it stays the same but for short bars before the first whole one, and then
 * the beats from the tempo map: an eighth in metres of eighths, else a quarter. They begin with the bar of the first
 * note, or at a marker "first beat", and end with the first track, or after the last note. Bar 1 is the first whole
 * one, or as a marker "bar 1" says. Without bars only a tempo that stays the same is taken over, and 120, the
 * standard's default, counts as unknown.
 *
 * @param first tick of the start of the first note
 * @param last tick of the end of the last note
 */
export function readBeat(
  data: MidiData,
  toSeconds: (tick: number) => number,
  first: number,
  last: number,
): BeatFacts {
  const bars = readBars(data);
  if (bars === null) {
    return { bpm: readTempo(data), beatsPerBar: null, beatUnit: null, firstDownbeat: null, beats: null };
  }
  const { beatsPerBar, beatUnit, beatTicks, downbeat } = bars;
  const ticks = beatTicksOf(data, bars, first, last);
  const beats = ticks.map(toSeconds);
  const spans = beats.slice(1).map((time, i) => time - beats[i]!);
  const known = spans.length > 0 && tempos(data).length > 0 && spans.every(isBeat);
  const mean = (60 * spans.length) / (beats.at(-1)! - beats[0]!);
  return {
    beatsPerBar,
    beatUnit,
    bpm: known && isSteady(beats, mean) ? rounded(mean, 3) : null,
    firstDownbeat:
      !known || downbeat >= ticks[0]!
        ? toSeconds(Math.max(downbeat, 0))
        : beats[0]! + ((downbeat - ticks[0]!) / beatTicks) * spans[0]!,
    beats: known ? beats : null,
  };
}

function isBeat(span: number): boolean {
  return span >= BEAT_SECONDS.least && span <= BEAT_SECONDS.most;
}

function readTempo(data: MidiData): number | null {
  const values = new Set(tempos(data).map(({ tempo }) => tempo));
  const [only] = values;
  if (values.size !== 1 || only === undefined || only === DEFAULT_TEMPO) return null;
  const bpm = Math.round(60e9 / only) / 1000;
  return bpm >= TEMPO_BPM.least && bpm <= TEMPO_BPM.most ? bpm : null;
}

function readBars(data: MidiData): Bars | null {
  const quarterTicks = data.header.ticksPerBeat;
  const signatures = eventsOf(data, 'timeSignature').map(({ tick, event }) => ({
    tick,
    quarters: (event.numerator * 4) / event.denominator,
    unit: event.denominator >= 8 ? (8 as const) : (4 as const),
  }));
  const quarters = signatures.at(-1)?.quarters;
  const whole = signatures.findIndex((signature) => signature.quarters === quarters);
  if (!quarterTicks || quarters === undefined) return null;
  const isShortBar = (index: number) => {
    const length = signatures[index + 1]!.tick - signatures[index]!.tick;
    return signatures[index]!.quarters < quarters && length === signatures[index]!.quarters * quarterTicks;
  };
  if (!signatures.every((s, index) => (index < whole ? isShortBar(index) : s.quarters === quarters)))
    return null;
  const { tick, unit } = signatures[whole]!;
  const beatsPerBar = (quarters * unit) / 4;
  if (!Number.isInteger(beatsPerBar) || beatsPerBar < BAR_BEATS.least || beatsPerBar > BAR_BEATS.most)
    return null;
  const barTicks = quarters * quarterTicks;
  return {
    beatsPerBar,
    beatUnit: unit,
    beatTicks: (quarterTicks * 4) / unit,
    downbeat: numberedBar(data, tick, barTicks) ?? tick,
  };
}

/** Where bar 1 begins by a marker "bar N" that stands on a bar line. */
function numberedBar(data: MidiData, barLine: number, barTicks: number): number | null {
  for (const { tick, event } of eventsOf(data, 'marker')) {
    const number = /^bar (-?\d{1,6})$/.exec(event.text)?.[1];
    if (number !== undefined && (tick - barLine) % barTicks === 0)
      return tick - (Number(number) - 1) * barTicks;
  }
  return null;
}

/** The ticks of the beats; none where there would be more than any music has. */
function beatTicksOf(
  data: MidiData,
  { beatsPerBar, beatTicks, downbeat }: Bars,
  first: number,
  last: number,
): number[] {
  const sixteenth = data.header.ticksPerBeat! / 4;
  const bar = beatsPerBar * beatTicks;
  const played = Math.round((first - downbeat) / sixteenth) * sixteenth;
  const marked = eventsOf(data, 'marker').find(
    ({ tick, event }) => event.text === 'first beat' && (tick - downbeat) % beatTicks === 0,
  )?.tick;
  const wanted = marked ?? Math.min(downbeat + Math.floor(played / bar) * bar, downbeat);
  // Beats are counted from the downbeat; none is before the file.
  const from = Math.ceil((Math.max(wanted, 0) - downbeat) / beatTicks - 1e-6);
  const closed = data.tracks[0]!.reduce((sum, event) => sum + event.deltaTime, 0);
  const to = Math.max(
    Math.ceil((last - downbeat) / beatTicks - 1e-6),
    Math.floor((closed - downbeat) / beatTicks + 1e-6),
    from + 1,
  );
  if (!(to - from <= MOST_BEATS)) return [];
  return Array.from({ length: to - from + 1 }, (_, i) => downbeat + (from + i) * beatTicks);
}
