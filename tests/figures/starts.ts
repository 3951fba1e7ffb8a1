/** Where notes start and last: what the network says, and the notes that are cut from it. */
import { frameToSeconds, secondsToFrame } from '../../src/dsp/frame-grid.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { across, at, clock, curve, frame, type Panel, panel, rulers, sheet, stroke, upright } from './svg.js';

const SHOWN: readonly [number, number] = [0.4, 7.6];
const VOICED = 0.5;

export function startsFigure({ track, melody }: Sound): string {
  const evidence = panel(SHOWN, [-0.04, 1.08], [50, 250]);
  const pitches = panel(SHOWN, [63, 77], [310, 700]);
  const notes = melody.notes.filter(({ end }) => end < SHOWN[1]);
  const names = new Map(notes.map(({ midi, name }) => [midi, withSigns(name)]));
  const starts = notes.map(({ start }) =>
    [evidence, pitches].map(({ time, top, bottom }) => upright(time.place(start), top, bottom)).join(''),
  );
  const steps = notes.map(({ start, end, midi }) =>
    across(pitches.time.place(start), pitches.time.place(end), pitches.value.place(midi)),
  );
  return sheet(
    790,
    'Where notes start and last',
    'Above, two curves between 0 and 1: how likely a note starts, with a narrow peak at each start, and how likely a note lasts, near 1 within notes and near 0 between lines. Below, the pitch as it is sung, with slides and vibrato, and the nine notes cut from it as level strokes on their keys, beginning at the peaks.',
    [
      rulers(evidence, new Map([0, 0.5, 1].map((value) => [value, String(value)]))),
      rulers(pitches, names),
      stroke(starts.join(''), 'faint'),
      curve(over(track, track.sounding, evidence), 'orange'),
      curve(over(track, track.onset, evidence), 'blue'),
      frame(evidence, 'solid: a note starts here; dashes: a note lasts here (probabilities)'),
      stroke(steps.join(''), 'thick'),
      curve(sung(track, melody.tuningCents, pitches), 'blue'),
      frame(pitches, 'curve: the pitch as sung, tuning taken out; strokes: the notes'),
      clock(pitches),
    ],
  );
}

function framesIn({ grid }: PitchTrack, [from, to]: readonly [number, number]): number[] {
  const first = secondsToFrame(grid, from);
  return Array.from({ length: secondsToFrame(grid, to) - first + 1 }, (_, i) => first + i);
}

function over(track: PitchTrack, values: Float32Array, p: Panel) {
  return framesIn(track, SHOWN).map((i) => at(p, frameToSeconds(track.grid, i), values[i]!));
}

/** The pitch where a voice sounds, in semitones above the keys of the recording's own tuning. */
export function sung(track: PitchTrack, tuningCents: number, p: Panel) {
  return framesIn(track, [p.time.from, p.time.to]).map((i) => {
    const midi = track.pitch[i]! - tuningCents / 100;
    const isInside = midi > p.value.from && midi < p.value.to;
    return track.voiced[i]! < VOICED || !isInside ? null : at(p, frameToSeconds(track.grid, i), midi);
  });
}
