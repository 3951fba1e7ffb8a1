import type { Recording } from '../audio/types.js';
import { bandLevels } from './bands.js';
import { bestPath } from './best-path.js';
import { CONTEXT_SIZE, contextOf } from './context.js';
import { activationsFor, forward, unpack } from './perceptron.js';
import { type PeriodicityRange, periodicity } from './periodicity.js';
import type { PitchTrack } from './types.js';
import { VOICE_WEIGHTS } from './voice-weights.js';

/**
 * Tracks one voice or one instrument that plays alone.
 *
 * 1. Pitch: candidates from the periodicity of each frame, the smoothest strong path through them.
 * 2. Levels: twelve bands of a short spectrum.
 * 3. A small network (perceptron.ts) looks at 320 ms of both around each frame and says how likely a note
 *    starts there, a note lasts there, and a pitched voice sounds there.
 */
export function trackSolo(recording: Recording, range: PeriodicityRange): PitchTrack {
  const { samples, sampleRate } = recording;
  const candidates = periodicity(samples, sampleRate, range);
  const { grid } = candidates;
  const path = bestPath(candidates);
  const levels = bandLevels(samples, sampleRate, grid);
  const net = unpack(VOICE_WEIGHTS);
  const activations = activationsFor(net);
  const context = new Float32Array(CONTEXT_SIZE);
  const onset = new Float32Array(grid.frameCount);
  const sounding = new Float32Array(grid.frameCount);
  const voiced = new Float32Array(grid.frameCount);
  for (let i = 0; i < grid.frameCount; i++) {
    contextOf(levels, path, i, context);
    [onset[i], sounding[i], voiced[i]] = forward(net, context, activations);
    // The network knows noise only as a background: nothing that has no period at all is voiced.
    if (path.strength[i] === 0) voiced[i] = 0;
  }
  return { grid, pitch: path.pitch, voiced, sounding, onset, levelDb: levels.levelDb };
}
