/**
 * The weights of the evidence for a line in written music, in log odds that a marked line begins, fitted by
 * tests/evaluate/lines/fit.ts.
 */
import type { BoundaryEvidence } from './evidence.js';

export interface BarWeights {
  readonly weights: Readonly<Record<keyof BoundaryEvidence, number>>;
  /** Of a whole breath, 0..1. */
  readonly breath: number;
  /** What a note must show before it is likelier to begin a line than not. */
  readonly bias: number;
}

/** Of whole songs: from the even songs of the pop melodies with phrases marked by hand (Dai et al. 2020). */
export const SONG: BarWeights = {
  weights: {
    interval: 0.56,
    bar: 0.4,
    rare: 2.09,
    leap: 1,
    repeatBegins: 0.93,
    repeatEnds: 0.36,
    repeatInBars: 0.98,
    barsBegin: 3.65,
    barsEnd: 3.23,
    pickup: 0.37,
    likeFirst: -0.24,
  },
  // Fitted with the others it comes to −0.4: in songs silences are told by the intervals, and most are no line's end.
  breath: 0,
  bias: -7.19,
};

/**
 * Of a stanza: from the even European tunes of the Essen folk-song collection (Schaffrath 1995), whose lines are those
 * of the sung text.
 */
export const STANZA: BarWeights = {
  weights: {
    interval: 0.19,
    bar: 0.54,
    rare: 2.89,
    leap: 1.4,
    repeatBegins: 1.66,
    repeatEnds: 1.76,
    repeatInBars: 0.59,
    barsBegin: -0.49,
    barsEnd: -0.29,
    pickup: 1.02,
    likeFirst: 2.13,
  },
  // By hand: the tunes are counted from print, where nobody breathes.
  breath: 1,
  bias: -4.23,
};

/** Notes up to which a melody is a stanza, and from which it is a song; between them both speak in part. */
const NOTES = { stanza: 60, song: 150 } as const;

/** 0..1: how far a melody of so many notes is a stanza. */
export function stanzaShare(notes: number): number {
  return Math.min(Math.max((NOTES.song - notes) / (NOTES.song - NOTES.stanza), 0), 1);
}
