/** What a guide is to play, and the events that it comes to. Times are seconds of the guide unless said otherwise. */

/** What was asked for. */
export interface GuideRequest {
  /** Seconds of the melody a second of the guide: 0.5 is half as fast. */
  readonly speed: number;
  /** How often each line, or the whole part, is played; 1 or more. */
  readonly repeat: number;
  readonly countIn: boolean;
  /** The first note, held, before the line. */
  readonly drone: boolean;
  /** Every line alone, and after it a silence as long. */
  readonly callAndResponse: boolean;
  /** The recording is played with the piano. */
  readonly beside: boolean;
}

/** All of the notes once, at their own speed, with nothing beside them. */
export const PLAIN_GUIDE: GuideRequest = {
  speed: 1,
  repeat: 1,
  countIn: false,
  drone: false,
  beside: false,
  callAndResponse: false,
};

export type GuideEvent =
  /** A piano key; velocity 0..1. */
  | {
      readonly kind: 'key';
      readonly start: number;
      readonly end: number;
      readonly midi: number;
      readonly velocity: number;
    }
  /** A click of the count-in; `first` of a bar. */
  | { readonly kind: 'click'; readonly start: number; readonly first: boolean }
  /** A held tone. */
  | { readonly kind: 'tone'; readonly start: number; readonly end: number; readonly midi: number }
  /** A part of the recording, from `from` to `to` seconds of it. */
  | { readonly kind: 'recording'; readonly start: number; readonly from: number; readonly to: number };

/** The tempo that is counted. */
export interface Pace {
  /** Seconds of the melody. */
  readonly beatSeconds: number;
  readonly beatsPerBar: number;
  /** The first note's beat in its bar, from 1, fractional. */
  readonly firstBeat: number;
  /** False where no beat is known and the notes' own pace is taken. */
  readonly known: boolean;
}

export interface GuidePlan {
  /** In order of start. */
  readonly events: readonly GuideEvent[];
  /** Length of the guide. */
  readonly seconds: number;
  readonly speed: number;
  /** False where a count-in was asked for and no beat is known. */
  readonly beatKnown: boolean;
}
