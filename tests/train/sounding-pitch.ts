/** The pitch that truly sounds in a computed recording, which the fixtures' truth files leave out. */
import { keyHz } from '../../fixtures/maker/levels.js';
import { pitchCurve } from '../../fixtures/maker/pitch-curve.js';
import { seededRandom } from '../../fixtures/maker/random.js';
import type { RecordingPlan } from '../../fixtures/maker/recordings.js';
import { performScore, type TimedNote } from '../../fixtures/maker/score.js';
import { valueAt } from '../../fixtures/maker/tracks.js';
import { planVoice, type VoiceStyle } from '../../fixtures/maker/voice-plan.js';
import { voiceTracks } from '../../fixtures/maker/voice-tracks.js';

/** Seconds between values. */
export const F0_HOP_SECONDS = 0.01;
/** A voice of less than this share of a note's loudness (20 dB down) counts as silent. */
const SILENT = 0.1;

/**
 * Hertz every F0_HOP_SECONDS from 0, 0 where no voice sounds; null for a piano, which is no voice. A whistle's is
 * that of the key meant: exact only as to where it sounds.
 */
export function soundingPitch(
  plan: RecordingPlan,
  notes: readonly TimedNote[],
  seconds: number,
): number[] | null {
  const { performer } = plan;
  const times = Array.from({ length: Math.floor(seconds / F0_HOP_SECONDS) }, (_, i) => i * F0_HOP_SECONDS);
  switch (performer.kind) {
    case 'piano':
      return null;
    case 'whistle':
      return times.map((time) => {
        const note = notes.find(({ start, end }) => time >= start && time < end);
        return note === undefined ? 0 : keyHz(note.midi + performer.tuningCents / 100);
      });
    case 'voice': {
      const { curve, loudness } = voiceAgain(plan, performer.style, seconds);
      return times.map((time) => (valueAt(loudness, time) < SILENT ? 0 : keyHz(valueAt(curve, time))));
    }
  }
}

/** Draws the same numbers in the same order as the performance (fixtures/maker/perform.ts), without the sound. */
function voiceAgain(plan: RecordingPlan, style: VoiceStyle, seconds: number) {
  const random = seededRandom(plan.seed);
  const planned = planVoice(performScore(plan.tune, plan.timing, random), style, random);
  const curve = pitchCurve(planned, style, seconds, random);
  return { curve, loudness: voiceTracks(planned, style, seconds, random).voice };
}
