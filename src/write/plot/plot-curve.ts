/** The two curves of the pitch plot, as path data. */
import { frameToSeconds, secondsToFrame } from '../../dsp/frame-grid.js';
import type { MelodyNote } from '../../melody.js';
import type { PitchTrack } from '../../pitch/types.js';
import type { Axis } from './plot-scale.js';

/** A frame with a lower probability of a voice than this is left blank. */
const VOICED = 0.5;
/** Frames nearer to each other on the paper than this, in tenths of a millimetre, are one point. */
const POINT_DISTANCE = 4;
/** Notes with a shorter silence between them, in seconds, are joined by an upright line (our choice). */
const JOINED_SECONDS = 0.06;

/**
 * The pitch as heard, in semitones with the recording's tuning taken out so that it lies on the keys. Breaks where
 * nothing is sung, and where it leaves the paper, as it does where a tracker is an octave off.
 */
export function heardPath(track: PitchTrack, tuningCents: number, time: Axis, pitch: Axis): string {
  const { grid } = track;
  const [from, to] = [secondsToFrame(grid, time.from), secondsToFrame(grid, time.to)];
  const hop = Math.abs(time.place(time.from + grid.hopSeconds) - time.place(time.from));
  const step = Math.max(1, Math.floor(POINT_DISTANCE / hop));
  let path = '';
  let pen: readonly [number, number] | null = null;
  for (let frame = from; frame <= to; frame += step) {
    const key = track.pitch[frame]! - tuningCents / 100;
    const seconds = frameToSeconds(grid, frame);
    const inside = key > pitch.from && key < pitch.to && seconds >= time.from && seconds <= time.to;
    if (track.voiced[frame]! < VOICED || !inside) {
      pen = null;
      continue;
    }
    const at = [Math.round(time.place(seconds)), Math.round(pitch.place(key))] as const;
    path += pen === null ? `M${at[0]} ${at[1]}` : `l${at[0] - pen[0]} ${at[1] - pen[1]}`;
    pen = at;
  }
  // A single frame would draw nothing: with round ends a line of no length is a dot.
  return path.replace(/(M\d+ -?\d+)(?=M|$)/g, '$1h0');
}

/** The written notes as steps. */
export function writtenPath(notes: readonly MelodyNote[], time: Axis, pitch: Axis): string {
  return notes
    .map((note, i) => {
      const before = notes[i - 1];
      const joined = before !== undefined && note.start - before.end < JOINED_SECONDS;
      const y = Math.round(pitch.place(note.midi));
      const start = Math.round(time.place(note.start));
      return `${joined ? `H${start}V${y}` : `M${start} ${y}`}H${Math.round(time.place(note.end))}`;
    })
    .join('');
}
