/** What the program measures in a recording before its network looks at it: the same code as src/pitch/solo.ts. */
import { ANALYSIS_RATE } from '../../src/audio/types.js';
import type { FrameGrid } from '../../src/dsp/frame-grid.js';
import { defaultHearOptions } from '../../src/pipeline/options.js';
import { type BandLevels, bandLevels } from '../../src/pitch/bands.js';
import { bestPath, type PitchPath } from '../../src/pitch/best-path.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { midiToHz } from '../../src/units.js';

export interface Features {
  readonly grid: FrameGrid;
  readonly levels: BandLevels;
  readonly path: PitchPath;
}

/** Features of samples at ANALYSIS_RATE, over the range of pitches that the program looks in unless told. */
export function featuresOf(samples: Float32Array): Features {
  const { lowestMidi, highestMidi } = defaultHearOptions('solo');
  const range = { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) };
  const candidates = periodicity(samples, ANALYSIS_RATE, range);
  const { grid } = candidates;
  return { grid, levels: bandLevels(samples, ANALYSIS_RATE, grid), path: bestPath(candidates) };
}
