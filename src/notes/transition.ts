import type { PitchTrack } from '../pitch/types.js';
import { notePitch } from './note-pitch.js';
import type { Segment } from './segment.js';

/** Two notes further apart than this are not joined, seconds. */
const JOINED_SECONDS = 0.1;
/** Pitches closer than this have no crossing that can be trusted, semitones. */
const SMALLEST_STEP_SEMITONES = 0.7;
/** The crossing is looked for this far around the onset, seconds. */
const REACH_SECONDS = 0.15;
/** A frame less likely voiced than this breaks the voice. */
const VOICED = 0.5;
/** A note is felt to begin just after its pitch is half-way there, seconds. */
const AFTER_CROSSING_SECONDS = 0.02;
/** How much of the way the start is drawn to a crossing that lies later. An earlier one leaves it where it is. */
const DRAWN = 0.85;
/** Evidence of an onset, 0..1, that needs no crossing: an attack, whose pitch the last note's ringing may hide. */
const SURE_ONSET = 0.85;
/** A note may not be left shorter than this, seconds. */
const SHORTEST_SECONDS = 0.04;

/**
 * Where one pitch glides into the next without a break of the voice, the note begins just after the glide is
 * half-way, and not before. Moves starts that come too early; the note before ends where it did.
 */
export function atPitchCrossings(track: PitchTrack, segments: readonly Segment[]): Segment[] {
  const { hopSeconds } = track.grid;
  const shortest = Math.round(SHORTEST_SECONDS / hopSeconds);
  const out = segments.map((s) => ({ ...s }));
  for (let k = 1; k < out.length; k++) {
    const before = out[k - 1];
    const here = out[k];
    if ((here.first - before.end) * hopSeconds > JOINED_SECONDS) continue;
    if (track.onset[here.first] > SURE_ONSET) continue;
    const crossing = crossingNear(track, before, here);
    if (crossing === null) continue;
    const wanted = crossing + AFTER_CROSSING_SECONDS / hopSeconds - here.first;
    if (wanted <= 0) continue;
    const first = Math.round(here.first + DRAWN * wanted);
    if (here.end - first < shortest) continue;
    here.first = first;
  }
  return out;
}

/** Frame (fractional) nearest to the onset where the pitch passes half-way, or null. */
function crossingNear(track: PitchTrack, before: Segment, here: Segment): number | null {
  const from = notePitch(track, before)?.pitch;
  const to = notePitch(track, here)?.pitch;
  if (from === undefined || to === undefined || Math.abs(to - from) < SMALLEST_STEP_SEMITONES) return null;
  const half = (from + to) / 2;
  const reach = Math.round(REACH_SECONDS / track.grid.hopSeconds);
  const lowest = Math.max(before.first + 1, here.first - reach);
  const highest = Math.min(here.end - 1, here.first + reach);
  let nearest: number | null = null;
  for (let i = lowest; i <= highest; i++) {
    const a = track.pitch[i - 1];
    const b = track.pitch[i];
    const passes = to > from ? a < half && b >= half : a > half && b <= half;
    if (!passes || Math.abs(b - a) > Math.abs(to - from)) continue;
    const at = i - 1 + (half - a) / (b - a);
    if (nearest === null || Math.abs(at - here.first) < Math.abs(nearest - here.first)) nearest = at;
  }
  if (nearest === null) return null;
  const first = Math.min(Math.floor(nearest), here.first);
  const last = Math.max(Math.ceil(nearest), here.first);
  for (let i = first; i <= last; i++) if (track.voiced[i] < VOICED) return null;
  return nearest;
}
