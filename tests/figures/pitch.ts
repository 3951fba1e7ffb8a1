/** From sound to a pitch: the candidates of every frame, and the path that is taken through them. */
import { frameToSeconds } from '../../src/dsp/frame-grid.js';
import { defaultHearOptions } from '../../src/pipeline/options.js';
import { bestPath } from '../../src/pitch/best-path.js';
import { MAX_CANDIDATES } from '../../src/pitch/candidates.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { midiToHz } from '../../src/units.js';
import { envelope } from './envelope.js';
import type { Sound } from './sounds.js';
import { at, clock, curve, dots, frame, type Point, panel, rulers, sheet } from './svg.js';

const SHOWN: readonly [number, number] = [0.4, 4.4];
/** Octaves of the note that is sung most, and more below: where candidates lie. */
const NAMED = new Map([34, 46, 58, 70, 82].map((midi, i) => [midi, `B♭${i + 1}`]));
/** Sizes of the dots, for candidates of a strength up to …. */
const SIZES = [
  [0.5, 3],
  [0.8, 4],
  [1, 6],
] as const;

export function pitchFigure({ recording }: Sound): string {
  const wave = panel(SHOWN, [-1, 1], [50, 210]);
  const pitches = panel(SHOWN, [32, 90], [270, 740]);
  const { lowestMidi, highestMidi } = defaultHearOptions('solo');
  const range = { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) };
  const candidates = periodicity(recording.samples, recording.sampleRate, range);
  const path = bestPath(candidates);
  const { grid } = candidates;
  const shown = Array.from({ length: grid.frameCount }, (_, i) => i).filter((i) => {
    const seconds = frameToSeconds(grid, i);
    return seconds >= SHOWN[0] && seconds <= SHOWN[1];
  });
  const bySize = SIZES.map(([most, size], s) => {
    const least = s === 0 ? 0 : SIZES[s - 1]![0];
    const points = shown.flatMap((i) =>
      Array.from({ length: candidates.count[i]! }, (_, k) => i * MAX_CANDIDATES + k).flatMap((k): Point[] => {
        const strength = candidates.strength[k]!;
        const isOfSize = strength > least && strength <= most;
        return isOfSize ? [at(pitches, frameToSeconds(grid, i), candidates.pitch[k]!)] : [];
      }),
    );
    return dots(points, size);
  });
  const taken = shown.map((i) =>
    path.strength[i] === 0 ? null : at(pitches, frameToSeconds(grid, i), path.pitch[i]!),
  );
  return sheet(
    830,
    'From sound to pitch',
    'Above, the sound of five sung notes over four seconds. Below, for every hundredth of a second, the pitches at which the sound nearly repeats: rows of dots at the pitch sung and at whole octaves and other fractions below it. A line follows the topmost strong row: the path taken.',
    [
      envelope(recording.samples, recording.sampleRate, wave),
      frame(wave, 'the sound'),
      rulers(pitches, NAMED),
      ...bySize,
      curve(taken, 'blue'),
      frame(pitches, 'dots: periods at which it repeats, the larger the better; line: the path taken'),
      clock(pitches),
    ],
  );
}
