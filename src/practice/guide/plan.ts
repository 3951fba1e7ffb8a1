/** Notes → what is played when. Pure. */
import type { Melody, MelodyNote } from '../../melody.js';
import { paceOf } from './pace.js';
import { takesOf } from './select.js';
import { touchOf } from './touch.js';
import type { GuideEvent, GuidePlan, GuideRequest, Pace } from './types.js';

/** Silence before anything sounds, and after the last note for it to ring out, in seconds. */
const LEAD_SECONDS = 0.5;
const TAIL_SECONDS = 1.5;
/** The held tone, and the silence after it: long enough to find the key and hum along (our choice). */
const DRONE_SECONDS = 4;
const AFTER_DRONE_SECONDS = 0.6;
const DRONE_VELOCITY = 0.5;
/** Silence between two rounds where no beat sets it. */
const BETWEEN_SECONDS = 1.2;
/**
 * The recording is played from so much before the first note, for its consonant, to so much after the last, but without
 * its neighbours' notes; the least before it is what a consonant takes at any rate.
 */
const RECORDING_BEFORE_SECONDS = 0.15;
const LEAST_BEFORE_SECONDS = 0.05;
const RECORDING_AFTER_SECONDS = 0.35;
/** Shortest time a key is down, and the time it is up before it is struck again. */
const SHORTEST_KEY_SECONDS = 0.07;
const RELEASE_SECONDS = 0.03;
/** Shares of a beat by which a note may lie off it and still be on it. */
const ON_BEAT = 0.05;

/**
 * The events of a guide. Each take (a line, in call and response, else all notes) is played `repeat` times, with its
 * drone and its count-in before it each time.
 *
 * The count-in is one bar, and the beats of the first note's own bar that go before it, so that the counting ends where
 * the note comes. With a beat, call and response are of the same whole number of bars, so that the answer begins where
 * the call did in its bar; without one, the silence is as long as the line.
 *
 * @param notes those of the melody that are played, at least one, in order
 */
export function planGuide(melody: Melody, notes: readonly MelodyNote[], request: GuideRequest): GuidePlan {
  const events: GuideEvent[] = [];
  let at = LEAD_SECONDS;
  let end = at;
  let beatKnown = true;
  for (const take of takesOf(notes, request.callAndResponse)) {
    const pace = paceOf(melody, take);
    const sounding = request.beside ? recordingOf(melody, take) : null;
    beatKnown &&= pace.known || !request.countIn;
    for (let round = 0; round < request.repeat; round++) {
      const played = planRound({ take, pace, sounding }, request, at);
      events.push(...played.events);
      end = played.end;
      at = played.next;
    }
  }
  return {
    events: events.sort((a, b) => a.start - b.start),
    seconds: end + TAIL_SECONDS,
    speed: request.speed,
    beatKnown,
  };
}

interface Round {
  readonly events: readonly GuideEvent[];
  /** Where it ends, the silence to answer in included. */
  readonly end: number;
  /** Where the next round begins. */
  readonly next: number;
}

/** What is played at one go, its tempo, and the seconds of the recording that sound with it. */
interface Playing {
  readonly take: readonly MelodyNote[];
  readonly pace: Pace;
  readonly sounding: { readonly from: number; readonly to: number } | null;
}

function planRound({ take, pace, sounding }: Playing, request: GuideRequest, begin: number): Round {
  const { speed } = request;
  const events: GuideEvent[] = [];
  const first = take[0]!;
  const last = take.at(-1)!;
  const beat = pace.beatSeconds / speed;
  const bar = beat * pace.beatsPerBar;
  let at = begin;
  if (request.drone) {
    events.push(
      { kind: 'key', start: at, end: at + DRONE_SECONDS, midi: first.midi, velocity: DRONE_VELOCITY },
      { kind: 'tone', start: at, end: at + DRONE_SECONDS, midi: first.midi },
    );
    at += DRONE_SECONDS + AFTER_DRONE_SECONDS;
  }
  if (request.countIn) {
    const beats = pace.beatsPerBar + pace.firstBeat - 1;
    for (let click = 0; click < beats - ON_BEAT; click++) {
      events.push({ kind: 'click', start: at + click * beat, first: click % pace.beatsPerBar === 0 });
    }
    at += beats * beat;
  } else if (sounding !== null) {
    at += (first.start - sounding.from) / speed;
  }
  const inGuide = (seconds: number) => at + (seconds - first.start) / speed;
  events.push(...keysOf(take, inGuide));
  if (sounding !== null) events.push({ kind: 'recording', start: inGuide(sounding.from), ...sounding });
  const lineEnd = inGuide(last.end);
  const span = lineEnd - at;
  if (request.callAndResponse) {
    const slot = pace.known ? Math.max(1, Math.ceil(span / bar - ON_BEAT)) * bar : span;
    const end = at + 2 * slot;
    return { events, end, next: end + (pace.known ? 0 : BETWEEN_SECONDS) };
  }
  if (!pace.known) return { events, end: lineEnd, next: lineEnd + BETWEEN_SECONDS };
  // The beat goes on: counting starts again on a bar line, and an uncounted line where it stood in its bar.
  const place = request.countIn ? at - (pace.firstBeat - 1) * beat : at;
  const bars = Math.ceil((lineEnd + beat - place) / bar - ON_BEAT);
  return { events, end: lineEnd, next: place + bars * bar };
}

function recordingOf({ notes }: Melody, take: readonly MelodyNote[]): { from: number; to: number } {
  const [first, last] = [take[0]!, take.at(-1)!];
  const before = notes[notes.indexOf(first) - 1]?.end ?? 0;
  const after = notes[notes.indexOf(last) + 1]?.start ?? Number.POSITIVE_INFINITY;
  const from = Math.min(
    Math.max(first.start - RECORDING_BEFORE_SECONDS, before),
    first.start - LEAST_BEFORE_SECONDS,
  );
  const to = Math.max(Math.min(last.end + RECORDING_AFTER_SECONDS, after - LEAST_BEFORE_SECONDS), last.end);
  return { from: Math.max(0, from), to };
}

/** The keys: each is let go at its note's end, and at the latest just before the next one that is struck. */
function keysOf(take: readonly MelodyNote[], inGuide: (seconds: number) => number): GuideEvent[] {
  const touch = touchOf(take);
  return take.map(({ start, end, midi }, i) => {
    const down = inGuide(start);
    const following = take[i + 1];
    const before = following?.midi === midi ? RELEASE_SECONDS : 0;
    const up = Math.min(
      inGuide(end),
      following ? inGuide(following.start) - before : Number.POSITIVE_INFINITY,
    );
    return {
      kind: 'key',
      start: down,
      end: Math.max(up, down + SHORTEST_KEY_SECONDS),
      midi,
      velocity: touch[i]!,
    };
  });
}
