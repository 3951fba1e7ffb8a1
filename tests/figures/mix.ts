/** The singer of a song with a band: how likely each pitch is the singer's, and the pitch that is taken. */
import { frameToSeconds, secondsToFrame } from '../../src/dsp/frame-grid.js';
import { PITCH_BINS } from '../../src/pitch/network/harmonic.js';
import { levelGain } from '../../src/pitch/network/level.js';
import { fineLevels } from '../../src/pitch/network/mel.js';
import { runMixNetwork } from '../../src/pitch/network/mix-network.js';
import { loadNetwork } from '../../src/pitch/network/session.js';
import type { Sound } from './sounds.js';
import { at, clock, curve, type Fill, frame, type Panel, panel, rulers, sheet } from './svg.js';

const SHOWN: readonly [number, number] = [7.2, 13.8];
/** What the bins of the network are: five a semitone from A1 up, every 20 ms (mix.ts). */
const LOWEST_MIDI = 33;
const BINS_PER_SEMITONE = 5;
const FRAME_SECONDS = 0.02;
const VOICED = 0.5;
const NAMED = new Map([
  [53, 'F3'],
  [58, 'B♭3'],
  [65, 'F4'],
  [70, 'B♭4'],
  [77, 'F5'],
]);
/** Shades for probabilities from … on. */
const SHADES: readonly (readonly [number, Fill])[] = [
  [0.002, 'shade-1'],
  [0.02, 'shade-2'],
  [0.15, 'shade-3'],
];

export async function mixFigure({ recording, track }: Sound): Promise<string> {
  const p = panel(SHOWN, [50, 80], [50, 660]);
  const probabilities = await pitchProbabilities(recording.samples);
  const first = secondsToFrame(track.grid, SHOWN[0]);
  const frames = Array.from(
    { length: secondsToFrame(track.grid, SHOWN[1]) - first + 1 },
    (_, i) => first + i,
  );
  const taken = frames.map((i) =>
    track.voiced[i]! < VOICED ? null : at(p, frameToSeconds(track.grid, i), track.pitch[i]!),
  );
  return sheet(
    750,
    'The singer of a song',
    'Pitch over time in a song for voice and piano. Shades of grey say how likely each pitch is the singer’s: nearly all of it lies on one thin band that moves as the voice does, with faint traces at keys of the piano. A line follows the band and breaks where nobody sings.',
    [
      ...SHADES.map(([least, fill]) => shade(probabilities, least, fill, p)),
      rulers(p, NAMED),
      curve(taken, 'blue'),
      frame(p, 'shades: how likely each pitch is the singer’s; line: the pitch taken'),
      clock(p),
    ],
  );
}

/** Probability of bin k in frame t at `t * PITCH_BINS + k`: that a voice sings and has this pitch. */
async function pitchProbabilities(samples: Float32Array): Promise<Float32Array> {
  const network = { look: await loadNetwork('mix-look'), listen: await loadNetwork('mix-listen') };
  const gain = levelGain(samples);
  const moments = 2 * Math.ceil((Math.floor(samples.length / 160) + 1) / 2);
  const { mel } = fineLevels(samples, gain, moments);
  const { frameCount, salience, voiced } = await runMixNetwork(network, { samples, side: null, gain }, mel);
  const out = new Float32Array(salience.length);
  for (let t = 0; t < frameCount; t++) {
    const row = salience.subarray(t * PITCH_BINS, (t + 1) * PITCH_BINS);
    const most = row.reduce((a, b) => Math.max(a, b));
    const sum = row.reduce((total, logit) => total + Math.exp(logit - most), 0);
    const sings = 1 / (1 + Math.exp(-(voiced[2 * t]! + voiced[2 * t + 1]!) / 2));
    row.forEach((logit, k) => {
      out[t * PITCH_BINS + k] = (sings * Math.exp(logit - most)) / sum;
    });
  }
  return out;
}

/** All cells of at least a probability, those above each other in a frame as one. */
function shade(probabilities: Float32Array, least: number, fill: Fill, p: Panel): string {
  const [from, to] = SHOWN.map((seconds) => Math.round(seconds / FRAME_SECONDS)) as [number, number];
  const width = Math.round(p.time.place(FRAME_SECONDS) - p.time.place(0));
  const edge = (bin: number) => Math.round(p.value.place(LOWEST_MIDI + (bin - 0.5) / BINS_PER_SEMITONE));
  const lowest = Math.ceil((p.value.from - LOWEST_MIDI) * BINS_PER_SEMITONE) + 1;
  const highest = Math.floor((p.value.to - LOWEST_MIDI) * BINS_PER_SEMITONE) - 1;
  let d = '';
  for (let t = from; t < to; t++) {
    const x = Math.round(p.time.place((t - 0.5) * FRAME_SECONDS));
    let start: number | null = null;
    for (let bin = lowest; bin <= highest + 1; bin++) {
      const isIn = bin <= highest && probabilities[t * PITCH_BINS + bin]! >= least;
      if (isIn && start === null) start = bin;
      if (!isIn && start !== null) {
        d += `M${x} ${edge(start)}V${edge(bin)}h${width}V${edge(start)}z`;
        start = null;
      }
    }
  }
  return `<path class="${fill}" d="${d}"/>`;
}
