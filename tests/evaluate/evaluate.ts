/** Scores of recordings against what is known of them: one row a recording and annotator, then means. */

import { frameToSeconds } from '../../src/dsp/frame-grid.js';
import type { HeardNotes } from '../../src/notes/types.js';
import type { PitchTrack, Source } from '../../src/pitch/types.js';
import { type Claim, claimsOf } from './calibration.js';
import type { Case, Group } from './cases.js';
import { inOurWays } from './label-ways.js';
import { type MelodyEstimate, type MelodyScores, scoreMelody, VOICED_FROM } from './melody-scores.js';
import {
  matchNotes,
  median,
  medianPitchDifference,
  type NoteScores,
  type ScoredNote,
  scoreNotes,
  shiftPitch,
} from './note-scores.js';

/** What the program made of one recording, and how long it took. */
export interface Hearing {
  /** What it was heard as; null where no melody was found. */
  readonly taken: Source | null;
  readonly track: PitchTrack;
  readonly heard: HeardNotes;
  /** Length of the recording in seconds. */
  readonly seconds: number;
  readonly decodeSeconds: number;
  readonly hearSeconds: number;
}

/** Agreement with one annotator's notes. */
export interface NoteRow {
  readonly referenceCount: number;
  readonly raw: NoteScores;
  /** Of sight-singing, with the labels in our ways (label-ways.ts); null of others. */
  readonly inOurWays: NoteScores | null;
  /** After the median pitch difference was taken out of the estimate. */
  readonly aligned: NoteScores;
  /** The median of estimate − reference, in cents. */
  readonly pitchDifferenceCents: number;
  /** Median of estimate − reference onset over the matched onsets, in milliseconds; null of none. */
  readonly onsetDifferenceMs: number | null;
  readonly claims: readonly Claim[];
}

export interface Row {
  readonly group: Group;
  readonly name: string;
  /** What it is. */
  readonly source: Source;
  readonly half: 'a' | 'b' | null;
  /** The annotator, empty where there is one. */
  readonly reading: string;
  /** What it was heard as; null where no melody was found. */
  readonly taken: Source | null;
  readonly estimateCount: number;
  /** Null where no notes are known. */
  readonly notes: NoteRow | null;
  readonly melody: MelodyScores | null;
  /** Length of the recording in seconds. */
  readonly seconds: number;
  /** Time taken over the recording's length. */
  readonly decodeShare: number;
  readonly hearShare: number;
}

/** F-measures, means over rows. */
export interface NoteMeans {
  readonly con: number;
  readonly conp: number;
  readonly conpoff: number;
  readonly alignedConp: number;
  readonly alignedConpoff: number;
}

/** Means of the rows of one group. */
export interface Mean {
  readonly label: string;
  readonly count: number;
  readonly notes: NoteMeans | null;
  readonly melody: MelodyScores | null;
  readonly decodeShare: number;
  readonly hearShare: number;
}

/** What stands for a recording in which no melody was found: no notes, no frames. */
export function nothingHeard(seconds: number): Pick<Hearing, 'track' | 'heard'> {
  const none = new Float32Array(0);
  return {
    track: {
      grid: { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 0 },
      pitch: none,
      voiced: none,
      sounding: none,
      onset: none,
      levelDb: none,
    },
    heard: { notes: [], tuningCents: 0, seconds },
  };
}

/** A track as the scores take it. */
export function estimateOf(track: PitchTrack): MelodyEstimate {
  return {
    times: Float64Array.from(track.pitch, (_, i) => frameToSeconds(track.grid, i)),
    pitch: track.pitch,
    voiced: Array.from(track.voiced, (v) => v >= VOICED_FROM),
  };
}

/** One row for each annotator of a recording; one where no notes are known. */
export function rowsOf(known: Case, hearing: Hearing): Row[] {
  const whole = {
    group: known.group,
    name: known.name,
    source: known.source,
    half: known.half,
    taken: hearing.taken,
    estimateCount: hearing.heard.notes.length,
    melody: known.melody && scoreMelody(known.melody, estimateOf(hearing.track)),
    seconds: hearing.seconds,
    decodeShare: hearing.decodeSeconds / hearing.seconds,
    hearShare: hearing.hearSeconds / hearing.seconds,
  };
  if (known.readings.length === 0) return [{ ...whole, reading: '', notes: null }];
  return known.readings.map(({ label, notes }) => ({
    ...whole,
    reading: label,
    notes: noteRow(known.group, notes, hearing.heard),
  }));
}

function noteRow(
  group: Group,
  reference: readonly ScoredNote[],
  { notes, tuningCents }: HeardNotes,
): NoteRow {
  const difference = medianPitchDifference(reference, notes);
  const onsets = matchNotes(reference, notes, 'onset').map(
    (p) => 1000 * (notes[p.estimate]!.start - reference[p.reference]!.start),
  );
  // Sight-singing labels lie on a scale of their own, off by a constant: keys are judged on ours.
  const ours = group === 'ssvd' ? shiftPitch(reference, difference) : reference;
  return {
    referenceCount: reference.length,
    raw: scoreNotes(reference, notes),
    inOurWays: group === 'ssvd' ? scoreNotes(inOurWays(reference), notes) : null,
    aligned: scoreNotes(reference, shiftPitch(notes, -difference)),
    pitchDifferenceCents: 100 * difference,
    onsetDifferenceMs: median(onsets),
    claims: claimsOf(ours, notes, tuningCents),
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

/** Mean of every score over the rows (each recording counts alike, whatever its length). */
function meanRow(label: string, rows: readonly Row[]): Mean {
  const of = (value: (r: Row) => number) => meanOf(rows.map(value));
  const noted = rows.flatMap((r) => (r.notes ? [r.notes] : []));
  const ofNotes = (value: (n: NoteRow) => number) => meanOf(noted.map(value));
  const tracks = rows.flatMap((r) => (r.melody ? [r.melody] : []));
  const ofTracks = (value: (m: MelodyScores) => number) => meanOf(tracks.map(value));
  return {
    label,
    count: rows.length,
    notes:
      noted.length === 0
        ? null
        : {
            con: ofNotes((n) => n.raw.con.f),
            conp: ofNotes((n) => n.raw.conp.f),
            conpoff: ofNotes((n) => n.raw.conpoff.f),
            alignedConp: ofNotes((n) => n.aligned.conp.f),
            alignedConpoff: ofNotes((n) => n.aligned.conpoff.f),
          },
    melody:
      tracks.length === 0
        ? null
        : {
            vr: ofTracks((m) => m.vr),
            vfa: ofTracks((m) => m.vfa),
            rpa: ofTracks((m) => m.rpa),
            rca: ofTracks((m) => m.rca),
            oa: ofTracks((m) => m.oa),
          },
    decodeShare: of((r) => r.decodeShare),
    hearShare: of((r) => r.hearShare),
  };
}

/** Means by group and annotator, and over each half of a group that is halved; empty ones are left out. */
export function meansOf(rows: readonly Row[]): Mean[] {
  const labels = [...new Set(rows.map((r) => `${r.group} ${r.reading}`.trim()))];
  return labels.flatMap((label) => {
    const inside = rows.filter((r) => `${r.group} ${r.reading}`.trim() === label);
    const halves = (['a', 'b'] as const)
      .map((half) => ({ half, rows: inside.filter((r) => r.half === half) }))
      .filter((h) => h.rows.length > 0)
      .map((h) => meanRow(`${label} half ${h.half}`, h.rows));
    return [meanRow(label, inside), ...halves, ...meanInOurWays(label, inside)];
  });
}

/** The mean of the rows whose labels can be put in our ways, none where there are none. */
function meanInOurWays(label: string, rows: readonly Row[]): Mean[] {
  const put = rows.flatMap((row) => {
    const scores = row.notes?.inOurWays;
    return row.notes && scores ? [{ ...row, notes: { ...row.notes, raw: scores } }] : [];
  });
  return put.length === 0 ? [] : [meanRow(`${label}, labels in our ways`, put)];
}
