/** Pitch of every moment → notes as they begin, are held, waver and end. */
import { middleOf } from '../../dsp/median.js';
import type { LiveFrame } from './live-pitch.js';
import { createLiveTuning } from './live-tuning.js';

/** Something that a listener is told. Times are seconds from the start of the sound. */
export type LiveEvent =
  /** A key was begun, or the voice has moved to another. */
  | ({ readonly event: 'note' } & Sounding)
  /** How the key is held: told when it changes, and about twice a second. */
  | ({ readonly event: 'held'; readonly heldSeconds: number; readonly how: 'steady' | 'wavering' } & Sounding)
  /** Nothing sounds any more. */
  | ({ readonly event: 'end'; readonly heldSeconds: number } & Sounding);

export interface Sounding {
  readonly seconds: number;
  /** The nearest key: of those that the voice sings, where it is steadily sharp or flat. */
  readonly midi: number;
  /** How far from that key on a piano tuned to A4 = 440 Hz, positive: sharp. Beyond ±50 where all of the singing is off. */
  readonly cents: number;
}

export interface LiveNotes {
  push(frame: LiveFrame): LiveEvent[];
  /** The sound is over. */
  finish(): LiveEvent[];
}

/** Periodicity from which a frame sounds, and under which one that sounds has stopped (our choice, measured on singers and pianos). */
const STRENGTH_TO_BEGIN = 0.8;
const STRENGTH_TO_GO_ON = 0.6;
/** Decibels under which nothing counts as sound, and over the quiet of the room that a note has to stand out. */
const FLOOR_DB = -60;
const OVER_ROOM_DB = 8;
/** How fast the idea of the room's quiet rises, decibels a frame: 3 dB a second, so a held note is not taken for it. */
const ROOM_RISE_DB = 0.03;
/** Frames (of 10 ms) that must agree before a key is named, and within how many semitones. */
const FRAMES_TO_AGREE = 4;
const AGREE_SEMITONES = 0.7;
/** A voice has left its note when it is this far from where the note lies, and its note has another key when it lies this far from the key: vibrato and what lies on the border must not flutter. */
const LEFT_SEMITONES = 0.7;
const OTHER_KEY_SEMITONES = 0.6;
/** Frames without pitch that a note survives: consonants, and pianos' hammer noise. */
const FRAMES_OF_GAP = 6;
/**
 * Frames over which wavering is measured, and those after which a note first counts as held; and the spread in cents
 * (standard deviation) from which it wavers: vibrato of ±50 cents, little for a trained voice, has 35 (Sundberg,
 * "Acoustic and psychoacoustic aspects of vocal vibrato", 1994).
 */
const FRAMES_OF_HOLD = 30;
const FRAMES_TO_HOLD = 15;
const WAVERING_CENTS = 30;
/** A key struck or sung again: so many decibels louder than the least of the frames just before. */
const AGAIN_DB = 6;
const FRAMES_BEFORE_AGAIN = 8;
/** Frames between two words on the same held key. */
const FRAMES_BETWEEN_WORDS = 50;
const SECONDS_PER_FRAME = 0.01;

export function createLiveNotes(): LiveNotes {
  /** Pitches and levels of the last frames of what sounds. */
  let pitches: number[] = [];
  let levelsDb: number[] = [];
  let key: number | null = null;
  let startSeconds = 0;
  let lastSeconds = 0;
  let framesOfKey = 0;
  let gap = 0;
  let roomDb = FLOOR_DB;
  let sinceWord = 0;
  let how: 'steady' | 'wavering' | null = null;

  const tuning = createLiveTuning();
  const centre = () => middleOf(pitches.slice(-FRAMES_OF_HOLD))!;
  const keyOf = (pitch: number) => Math.round(pitch - tuning.cents() / 100);
  const sounding = (midi: number): Sounding => ({
    seconds: round(lastSeconds),
    midi,
    cents: Math.round(100 * (centre() - midi)),
  });
  const heldSeconds = () => round(lastSeconds - startSeconds);
  const learn = () => {
    if (key !== null && framesOfKey >= FRAMES_TO_HOLD) tuning.add(centre(), heldSeconds());
  };
  const name = (midi: number): LiveEvent => {
    key = midi;
    sinceWord = 0;
    how = null;
    return { event: 'note', ...sounding(midi) };
  };
  const begin = (): LiveEvent => {
    learn();
    pitches = pitches.slice(-FRAMES_TO_AGREE);
    levelsDb = [];
    framesOfKey = 0;
    startSeconds = lastSeconds - (FRAMES_TO_AGREE - 1) * SECONDS_PER_FRAME;
    return name(keyOf(centre()));
  };
  const finish = (): LiveEvent[] => {
    learn();
    const events: LiveEvent[] =
      key === null ? [] : [{ event: 'end', ...sounding(key), heldSeconds: heldSeconds() }];
    key = null;
    pitches = [];
    return events;
  };
  const isAgain = (levelDb: number) => {
    levelsDb.push(levelDb);
    return (
      framesOfKey > FRAMES_BEFORE_AGAIN &&
      levelDb > Math.min(...levelsDb.slice(-FRAMES_BEFORE_AGAIN)) + AGAIN_DB
    );
  };
  const hold = (midi: number): LiveEvent[] => {
    if (framesOfKey < FRAMES_TO_HOLD) return [];
    const now = spreadCents(pitches.slice(-FRAMES_OF_HOLD)) > WAVERING_CENTS ? 'wavering' : 'steady';
    if (now === how && sinceWord < FRAMES_BETWEEN_WORDS) return [];
    how = now;
    sinceWord = 0;
    return [{ event: 'held', ...sounding(midi), heldSeconds: heldSeconds(), how }];
  };

  return {
    push({ seconds, pitch, strength, levelDb }) {
      roomDb = Math.max(FLOOR_DB, Math.min(levelDb, roomDb + ROOM_RISE_DB));
      const loud = levelDb > FLOOR_DB && (key !== null || levelDb > roomDb + OVER_ROOM_DB);
      if (pitch === null || !loud || strength < (key === null ? STRENGTH_TO_BEGIN : STRENGTH_TO_GO_ON)) {
        gap++;
        if (key === null) pitches = [];
        else levelsDb.push(levelDb);
        return gap > FRAMES_OF_GAP ? finish() : [];
      }
      gap = 0;
      lastSeconds = seconds;
      pitches.push(pitch);
      framesOfKey++;
      sinceWord++;
      const last = pitches.slice(-FRAMES_TO_AGREE);
      const middle = middleOf(last)!;
      const agree =
        last.length === FRAMES_TO_AGREE && last.every((p) => Math.abs(p - middle) <= AGREE_SEMITONES);
      if (key === null) return agree ? [begin()] : [];
      if (isAgain(levelDb) || (agree && Math.abs(middle - centre()) > LEFT_SEMITONES)) return [begin()];
      const ownKeySemitones = centre() - tuning.cents() / 100 - key;
      if (Math.abs(ownKeySemitones) > OTHER_KEY_SEMITONES) return [name(keyOf(centre()))];
      return hold(key);
    },
    finish,
  };
}

/** Standard deviation in cents. */
function spreadCents(pitches: readonly number[]): number {
  const mean = pitches.reduce((sum, p) => sum + p, 0) / pitches.length;
  return 100 * Math.sqrt(pitches.reduce((sum, p) => sum + (p - mean) ** 2, 0) / pitches.length);
}

/** To a hundredth of a second: frames are no finer. */
function round(seconds: number): number {
  return Math.round(seconds * 100) / 100;
}
