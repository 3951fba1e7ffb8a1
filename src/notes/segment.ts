import type { PitchTrack } from '../pitch/types.js';
import { boundaryCandidates } from './boundaries.js';
import { PitchFit } from './pitch-fit.js';

/** A stretch of frames that is one note: first frame and the frame after its last. */
export interface Segment {
  readonly first: number;
  readonly end: number;
}

/** Weights of the note model; see `segment`. */
export interface SegmentModel {
  /** Evidence (natural log odds) that an onset must bring to be worth a new note. */
  readonly onsetThreshold: number;
  readonly onsetWeight: number;
  /** Log odds that a frame must bring to count for the note it would belong to. */
  readonly soundingThreshold: number;
  /** Weight of a frame's log odds that a note lasts there. */
  readonly soundingWeight: number;
  /** Weight of a frame's squared distance from the note's pitch. */
  readonly pitchWeight: number;
  /** Notes shorter than this many seconds are charged … */
  readonly shortSeconds: number;
  /** … this much for each second that is lacking. */
  readonly shortCostPerSecond: number;
}

/**
 * Chosen by note scores on half a of the sight-singing set, each recording heard by a network that had not been
 * trained on it. Halving or doubling the weights of sounding and of pitch moved COnP there by a point at most.
 */
export const SEGMENT_MODEL: SegmentModel = {
  onsetThreshold: 0.1,
  onsetWeight: 1,
  soundingThreshold: 1,
  soundingWeight: 0.07,
  pitchWeight: 0.04,
  shortSeconds: 0.12,
  shortCostPerSecond: 20,
};

/** No note is shorter than this. */
const SHORTEST_SECONDS = 0.05;
/** Candidate onsets that lie further on than this are not tried as a note's end, so that time grows with length. */
const LONGEST_SECONDS = 20;
/** Log odds are not believed beyond this. */
const MOST_LOG_ODDS = 4;
/** Frames at the start of a note in which the voice may still be on its way, seconds. */
const GLIDE_SECONDS = 0.04;

/**
 * Cuts a pitch track into notes and rests: the division of the whole recording with the highest sum of
 *
 * - for every note the log odds of its onset above a threshold,
 * - for every frame of a note the log odds that a note lasts there, above a threshold (a frame of rest counts 0),
 * - less the squared distance of its frames from the one pitch that fits the note best, each bounded, so that
 *   vibrato and a slip cost little and two keys in one note cost much,
 * - less a charge for very short notes.
 *
 * Dynamic programming over candidate onsets, each note choosing its own end before the next onset: a
 * segment model as in Gómez & Bonada 2013 (Computer Music Journal 37(2), "note segmentation") and the
 * semi-Markov models of Nishikimi et al. 2016–2021, with the onset evidence of the tracker in place of theirs.
 */
export function segment(track: PitchTrack, model: SegmentModel = SEGMENT_MODEL): Segment[] {
  const { grid } = track;
  const frames = (seconds: number) => Math.max(1, Math.round(seconds / grid.hopSeconds));
  const starts = boundaryCandidates(track);
  const count = starts.length;
  const search: Search = {
    track,
    model,
    starts,
    gains: soundingGains(track.sounding, model),
    shortest: frames(SHORTEST_SECONDS),
    longest: frames(LONGEST_SECONDS),
    glide: frames(GLIDE_SECONDS),
    fit: new PitchFit(),
    best: new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY),
    cameFrom: new Int32Array(count + 1).fill(-1),
    noteEnd: new Int32Array(count + 1).fill(-1),
  };
  const { best, cameFrom, noteEnd } = search;
  best[0] = 0;
  for (let c = 0; c < count; c++) {
    // Nothing starts here: the rest or the end of the last note goes on.
    if (best[c] > best[c + 1]) {
      best[c + 1] = best[c];
      cameFrom[c + 1] = c;
      noteEnd[c + 1] = -1;
    }
    tryNotesFrom(c, search);
  }
  const segments: Segment[] = [];
  for (let d = count; d > 0; d = cameFrom[d]) {
    if (noteEnd[d] > 0) segments.push({ first: starts[cameFrom[d]], end: noteEnd[d] });
  }
  return segments.reverse();
}

/** The state of the search; lengths in frames. */
interface Search {
  readonly track: PitchTrack;
  readonly model: SegmentModel;
  /** Candidate onsets, as frames. */
  readonly starts: readonly number[];
  /** What each frame brings to a note that lasts there. */
  readonly gains: Float64Array;
  readonly shortest: number;
  readonly longest: number;
  readonly glide: number;
  readonly fit: PitchFit;
  /** Best sum of everything before each candidate, and at last before the end. */
  readonly best: Float64Array;
  /** The candidate before on the best way, and the end of the note that begins there; −1 for a rest. */
  readonly cameFrom: Int32Array;
  readonly noteEnd: Int32Array;
}

/** A note from candidate `c` to every later candidate, ending where it fits best. */
function tryNotesFrom(c: number, search: Search): void {
  const { track, model, starts, gains, shortest, longest, glide, fit, best, cameFrom, noteEnd } = search;
  const { hopSeconds, frameCount } = track.grid;
  const first = starts[c];
  const onsetGain = model.onsetWeight * (logOdds(track.onset[first]) - model.onsetThreshold);
  let sum = 0;
  let bestSum = Number.NEGATIVE_INFINITY;
  let bestEnd = -1;
  let misfit = 0;
  let i = first;
  fit.clear();
  for (let d = c + 1; d <= starts.length; d++) {
    const limit = d < starts.length ? starts[d] : frameCount;
    for (; i < limit; i++) {
      sum += gains[i];
      if (i >= first + glide) fit.add(track.pitch[i], track.voiced[i]);
      if (i + 1 - first >= shortest && sum >= bestSum) {
        bestSum = sum;
        bestEnd = i + 1;
        misfit = fit.cost;
      }
    }
    if (bestEnd < 0) continue;
    const lacking = Math.max(0, model.shortSeconds - (bestEnd - first) * hopSeconds);
    const total =
      best[c] + onsetGain + bestSum - model.pitchWeight * misfit - model.shortCostPerSecond * lacking;
    if (total > best[d]) {
      best[d] = total;
      cameFrom[d] = c;
      noteEnd[d] = bestEnd;
    }
    if (limit - first > longest) break;
  }
}

function soundingGains(sounding: Float32Array, model: SegmentModel): Float64Array {
  const gains = new Float64Array(sounding.length);
  for (let i = 0; i < gains.length; i++) {
    gains[i] = model.soundingWeight * (logOdds(sounding[i]) - model.soundingThreshold);
  }
  return gains;
}

function logOdds(probability: number): number {
  const p = Math.min(Math.max(probability, 1e-6), 1 - 1e-6);
  return Math.max(-MOST_LOG_ODDS, Math.min(MOST_LOG_ODDS, Math.log(p / (1 - p))));
}
