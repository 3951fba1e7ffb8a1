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
  const n = grid.frameCount;
  const frames = (seconds: number) => Math.max(1, Math.round(seconds / grid.hopSeconds));
  const starts = boundaryCandidates(track);
  const fit = new PitchFit();
  const shortest = frames(SHORTEST_SECONDS);
  const longest = frames(LONGEST_SECONDS);
  const glide = frames(GLIDE_SECONDS);

  // best[c]: best sum of everything before candidate c; candidate `starts.length` is the end.
  const count = starts.length;
  const best = new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY);
  const cameFrom = new Int32Array(count + 1).fill(-1);
  const noteEnd = new Int32Array(count + 1).fill(-1);
  best[0] = 0;
  for (let c = 0; c < count; c++) {
    // Nothing starts here: the rest or the end of the last note goes on.
    if (best[c] > best[c + 1]) {
      best[c + 1] = best[c];
      cameFrom[c + 1] = c;
      noteEnd[c + 1] = -1;
    }
    const first = starts[c];
    const onsetGain = model.onsetWeight * (logOdds(track.onset[first]) - model.onsetThreshold);
    let sum = 0;
    let bestSum = Number.NEGATIVE_INFINITY;
    let bestEnd = -1;
    let misfit = 0;
    let i = first;
    fit.clear();
    for (let d = c + 1; d <= count; d++) {
      const limit = d < count ? starts[d] : n;
      for (; i < limit; i++) {
        sum += model.soundingWeight * (logOdds(track.sounding[i]) - model.soundingThreshold);
        if (i >= first + glide) fit.add(track.pitch[i], track.voiced[i]);
        if (i + 1 - first >= shortest && sum >= bestSum) {
          bestSum = sum;
          bestEnd = i + 1;
          misfit = fit.cost;
        }
      }
      if (bestEnd < 0) continue;
      const lacking = Math.max(0, model.shortSeconds - (bestEnd - first) * grid.hopSeconds);
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
  const segments: Segment[] = [];
  for (let d = count; d > 0; d = cameFrom[d]) {
    if (noteEnd[d] > 0) segments.push({ first: starts[cameFrom[d]], end: noteEnd[d] });
  }
  return segments.reverse();
}

function logOdds(probability: number): number {
  const p = Math.min(Math.max(probability, 1e-6), 1 - 1e-6);
  return Math.max(-MOST_LOG_ODDS, Math.min(MOST_LOG_ODDS, Math.log(p / (1 - p))));
}
