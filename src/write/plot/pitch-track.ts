import { frameToSeconds } from '../../dsp/frame-grid.js';
import type { PitchTrack } from '../../pitch/types.js';
import { midiToHz } from '../../units.js';
import { fixed } from '../numbers.js';

/**
 * The pitch track as comma-separated values: `seconds,hz,voiced`, a row a frame. `seconds` is the centre of
 * the frame; `hz` the best guess of the pitch, also where nothing is sung, and 0 only where there is no
 * guess at all; `voiced` the probability 0..1 that a pitched voice sounds. Ends with a newline.
 */
export function pitchTrackCsv(track: PitchTrack): string {
  const rows = ['seconds,hz,voiced'];
  for (let frame = 0; frame < track.grid.frameCount; frame++) {
    const midi = track.pitch[frame]!;
    const hz = midi > 0 ? midiToHz(midi) : 0;
    rows.push(
      `${fixed(frameToSeconds(track.grid, frame), 4)},${fixed(hz, 2)},${fixed(track.voiced[frame]!, 3)}`,
    );
  }
  return `${rows.join('\n')}\n`;
}
