/**
 * How well a pitch track agrees with a reference, frame by frame (MIREX audio melody extraction: Poliner et al.,
 * IEEE TASLP 15(4), 2007; Salamon, Gómez, Ellis & Richard, IEEE SPM 31(2), 2014; the conventions are those of
 * mir_eval.melody).
 *
 * Conventions: times in seconds, pitch in fractional MIDI numbers, voicing apart from pitch, scores 0..1.
 * VR: reference-voiced frames called voiced. VFA: reference-unvoiced frames called voiced.
 * RPA: reference-voiced frames whose estimated pitch is strictly within 50 cents, whatever their voicing.
 * RCA: the same with the octave forgiven. OA: all frames that are right (voiced, called voiced and within
 * 50 cents; or unvoiced and called unvoiced).
 *
 * Differences from mir_eval 0.8, and where each pushes the score:
 * 1. the estimate is called voiced where its probability is at least 0.5 and then taken as yes or no, as
 *    mir_eval does for voicing of 0 and 1 (with fractions it would give part marks: either way);
 * 2. no frame is added to a reference that starts after 0 (mir_eval repeats its first frame at 0: one frame);
 * 3. a score over no frames is the best one there (VR 1, VFA 0), as in mir_eval, while RPA and RCA are 0.
 */

/** The true pitch, frame by frame; times rise strictly. */
export interface MelodyReference {
  /** Seconds. */
  readonly times: Float64Array;
  /** Fractional MIDI number; of no meaning where unvoiced. */
  readonly pitch: Float64Array;
  readonly voiced: readonly boolean[];
}

/** A track on its own time base; times rise strictly. */
export interface MelodyEstimate {
  /** Seconds. */
  readonly times: ArrayLike<number>;
  /** Fractional MIDI number, also where unvoiced (the best guess there). */
  readonly pitch: ArrayLike<number>;
  readonly voiced: readonly boolean[];
}

export interface MelodyScores {
  readonly vr: number;
  readonly vfa: number;
  readonly rpa: number;
  readonly rca: number;
  readonly oa: number;
}

/** Cents a pitch must be nearer than (limit not included). */
const PITCH_TOLERANCE_CENTS = 50;
/** Probability of voice from which a frame is called voiced. */
export const VOICED_FROM = 0.5;

interface Frame {
  /** Null where the estimate has no frame. */
  readonly pitch: number | null;
  readonly voiced: boolean;
}

/**
 * The estimate at the times of the reference: pitch by straight lines between neighbouring frames, voicing
 * held from the frame before. Before its first frame the first is used; after its last frame the last is held
 * up to, and not including, the end of the reference, where there is none (all as mir_eval).
 */
export function resample(estimate: MelodyEstimate, times: Float64Array): Frame[] {
  const { times: at, pitch, voiced } = estimate;
  const last = at.length - 1;
  const end = times[times.length - 1] ?? 0;
  let i = 0;
  return Array.from(times, (time) => {
    if (last < 0 || (time === end && time > at[last]! + 1e-10)) return { pitch: null, voiced: false };
    // 1e-10 s: the times of a grid are sums of binary fractions and may lie a hair beside each other.
    while (i < last && at[i + 1]! <= time + 1e-10) i++;
    if (i === last || time <= at[0]!) return { pitch: pitch[i]!, voiced: voiced[i]! };
    const part = Math.max(0, (time - at[i]!) / (at[i + 1]! - at[i]!));
    return {
      pitch: pitch[i]! + part * (pitch[i + 1]! - pitch[i]!),
      voiced: voiced[i]!,
    };
  });
}

/** Share, or `ofNone` where there is nothing to take a share of. */
function share(part: number, whole: number, ofNone: number): number {
  return whole === 0 ? ofNone : part / whole;
}

/** VR, VFA, RPA, RCA and OA of a track; all 0 for a reference without frames. */
export function scoreMelody(reference: MelodyReference, estimate: MelodyEstimate): MelodyScores {
  const frameCount = reference.times.length;
  if (frameCount === 0) return { vr: 0, vfa: 0, rpa: 0, rca: 0, oa: 0 };
  let voiced = 0;
  let found = 0;
  let falseAlarms = 0;
  let pitchRight = 0;
  let chromaRight = 0;
  let right = 0;
  resample(estimate, reference.times).forEach((frame, i) => {
    if (!reference.voiced[i]) {
      if (frame.voiced) falseAlarms++;
      else right++;
      return;
    }
    voiced++;
    if (frame.voiced) found++;
    if (frame.pitch === null) return;
    const cents = 100 * Math.abs(frame.pitch - reference.pitch[i]!);
    const octaves = 1200 * Math.floor(cents / 1200 + 0.5);
    if (Math.abs(cents - octaves) < PITCH_TOLERANCE_CENTS) chromaRight++;
    if (cents < PITCH_TOLERANCE_CENTS) {
      pitchRight++;
      if (frame.voiced) right++;
    }
  });
  return {
    vr: share(found, voiced, 1),
    vfa: share(falseAlarms, frameCount - voiced, 0),
    rpa: share(pitchRight, voiced, 0),
    rca: share(chromaRight, voiced, 0),
    oa: right / frameCount,
  };
}
