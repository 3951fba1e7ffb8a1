import type { Recording } from '../audio/types.js';
import { bestPath } from './best-path.js';
import { levelGain } from './network/level.js';
import { fineLevels } from './network/mel.js';
import { loadNetwork, type Network } from './network/session.js';
import { soloFrames } from './network/solo-frames.js';
import { runSoloNetwork } from './network/solo-network.js';
import { logistic } from './network/units.js';
import { HOP_SAMPLES, type PeriodicityRange, periodicity } from './periodicity.js';
import { pathInRegister } from './register.js';
import { STRETCH_SECONDS, stretchesOf, trackInStretches } from './stretches.js';
import type { PitchTrack } from './types.js';

/** Levels are not followed below this, decibels relative to full scale. */
const FLOOR_DB = -100;

/**
 * Tracks one voice or one instrument that plays alone.
 *
 * 1. Pitch: candidates from the periodicity of each frame, the smoothest strong path through them; then once more, the
 *    candidates near the melody worth more.
 * 2. Levels: forty bands of a short spectrum.
 * 3. A small network (network/) looks at 1.3 s of both around each frame and says how likely a note starts
 *    there, a note lasts there, and a pitched voice sounds there.
 *
 * @param network the solo network; without it, the one whose weights come with the program
 * @param stretchSeconds seconds tracked at once (stretches.ts)
 */
export async function trackSolo(
  { samples, sampleRate }: Recording,
  range: PeriodicityRange,
  network?: Network,
  stretchSeconds = STRETCH_SECONDS,
): Promise<PitchTrack> {
  const gain = levelGain(samples);
  const loaded = network ?? (await loadNetwork('solo'));
  return trackInStretches(stretchesOf(samples.length, HOP_SAMPLES, sampleRate, stretchSeconds), (from, to) =>
    trackStretch(samples.subarray(from, to), sampleRate, range, { network: loaded, gain }),
  );
}

async function trackStretch(
  samples: Float32Array,
  sampleRate: number,
  range: PeriodicityRange,
  { network, gain }: { readonly network: Network; readonly gain: number },
): Promise<PitchTrack> {
  const candidates = periodicity(samples, sampleRate, range);
  const { grid } = candidates;
  const smoothest = bestPath(candidates);
  const path = pathInRegister(candidates, smoothest);
  const levels = fineLevels(samples, gain, grid.frameCount);
  // The network was taught with the path that knows no register.
  const heard = await runSoloNetwork(network, soloFrames(levels, smoothest));
  const gainDb = 20 * Math.log10(gain);
  return {
    grid,
    pitch: path.pitch,
    // The network knows noise only as a background: nothing that has no period at all is voiced.
    voiced: heard.voiced.map((x, i) => (path.strength[i] === 0 ? 0 : logistic(x))),
    sounding: heard.sounding.map(logistic),
    onset: heard.onset.map(logistic),
    levelDb: levels.wholeDb.map((db) => Math.max(db - gainDb, FLOOR_DB)),
  };
}
