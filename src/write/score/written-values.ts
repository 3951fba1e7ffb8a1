/** Which lengths one note or rest can show, and where longer or crooked ones are cut: common practice. */
import { BEAT_TICKS, type WrittenMeter } from './written-meter.js';

/** A note value: its name in MusicXML and its dots. */
export interface NoteValue {
  readonly type: 'breve' | 'whole' | 'half' | 'quarter' | 'eighth' | '16th' | '32nd';
  readonly dots: 0 | 1;
}

/** From start to end in ticks. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Values with their lengths in quarters. */
const QUARTERS: readonly (readonly [NoteValue['type'], number])[] = [
  ['breve', 8],
  ['whole', 4],
  ['half', 2],
  ['quarter', 1],
  ['eighth', 1 / 2],
  ['16th', 1 / 4],
  ['32nd', 1 / 8],
];

/** The value that lasts a number of ticks, null where it takes more than one. */
export function noteValue(ticks: number, meter: WrittenMeter): NoteValue | null {
  for (const [type, quarters] of QUARTERS) {
    const plain = quarters * meter.quarterTicks;
    if (ticks === plain) return { type, dots: 0 };
    if (ticks === 1.5 * plain) return { type, dots: 1 };
  }
  return null;
}

/** A stretch of one bar, in ticks from the start of the bar, as spans that a note can show. */
export function noteSpans(span: Span, meter: WrittenMeter): Span[] {
  return cutUntil(span, meter, isNote);
}

/** A stretch of one bar, in ticks from the start of the bar, as spans that a rest can show. */
export function restSpans(span: Span, meter: WrittenMeter): Span[] {
  return cutUntil(span, meter, isRest);
}

/** Cuts at the strongest place inside until every span can be shown. */
function cutUntil(
  span: Span,
  meter: WrittenMeter,
  fits: (span: Span, meter: WrittenMeter) => boolean,
): Span[] {
  if (fits(span, meter)) return [span];
  const cut = strongestPlace(span, meter);
  if (cut === null) return [span];
  return [
    ...cutUntil({ start: span.start, end: cut }, meter, fits),
    ...cutUntil({ start: cut, end: span.end }, meter, fits),
  ];
}

/**
 * Of the places strictly inside, the strongest kind: where groups meet, pulses, beats, halves and quarters of
 * a beat. Of several of one kind the last where the span starts on that kind (a long value first), else the
 * first (the rest of a pulse first).
 */
function strongestPlace({ start, end }: Span, meter: WrittenMeter): number | null {
  const every = (step: number) => {
    const from = (Math.floor(start / step) + 1) * step;
    return Array.from({ length: Math.max(0, Math.ceil((end - from) / step)) }, (_, i) => from + i * step);
  };
  const kinds: readonly (readonly [readonly number[], boolean])[] = [
    [meter.groups.filter((place) => place > start && place < end), meter.groups.includes(start)],
    ...[meter.pulseTicks, BEAT_TICKS, BEAT_TICKS / 2, BEAT_TICKS / 4].map(
      (step) => [every(step), start % step === 0] as const,
    ),
  ];
  const [places, startsOnOne] = kinds.find(([inside]) => inside.length > 0) ?? [[], false];
  return (startsOnOne ? places.at(-1) : places[0]) ?? null;
}

/**
 * Whether one note may show the span. From pulse to pulse any value may, but where groups meet only from the
 * start of a group, or in bars of four (a half note on the second beat). Off the pulses a value of eighths,
 * up to a dotted quarter, stays inside its group; shorter ones stay inside their beat, and a dotted eighth
 * may start on a beat of 6/8.
 */
function isNote({ start, end }: Span, meter: WrittenMeter): boolean {
  if (noteValue(end - start, meter) === null) return false;
  const { pulseTicks, quarterTicks, groups } = meter;
  const crossesGroups = groups.some((place) => place > start && place < end);
  const bothOn = (step: number) => start % step === 0 && end % step === 0;
  if (bothOn(pulseTicks)) return !crossesGroups || groups.includes(start) || meter.beatsPerBar === 4;
  if (crossesGroups) return false;
  if (bothOn(quarterTicks / 2)) return end - start <= 1.5 * quarterTicks;
  const insideBeat = Math.floor(start / BEAT_TICKS) === Math.floor((end - 1) / BEAT_TICKS);
  return insideBeat || (pulseTicks > BEAT_TICKS && start % BEAT_TICKS === 0 && end % (BEAT_TICKS / 2) === 0);
}

/**
 * Whether one rest may show the span: a whole group (but no half or dotted half rest in bars of three), the
 * first two eighths of three, or a beat, half or quarter of a beat in its own place. No dots but for groups of
 * three eighths.
 */
function isRest({ start, end }: Span, meter: WrittenMeter): boolean {
  const { groups, pulseTicks } = meter;
  const ticks = end - start;
  const group = groups.indexOf(start);
  const wholeGroup = group >= 0 && groups[group + 1] === end;
  const compound = pulseTicks > BEAT_TICKS;
  if (wholeGroup && noteValue(ticks, meter) !== null && (compound || ticks % (3 * BEAT_TICKS) !== 0))
    return true;
  if (compound && start % pulseTicks === 0 && ticks === 2 * BEAT_TICKS) return true;
  return [1, 2, 4].some((parts) => ticks === BEAT_TICKS / parts && start % ticks === 0);
}
