/** A melody, and its recording where that is wanted, → the bytes of a guide. */
import { dither } from '../../audio/dither.js';
import { decodePlayable, PLAY_RATE } from '../../audio/playable.js';
import { encodeMp3 } from '../../audio/write-mp3.js';
import { encodeWav } from '../../audio/write-wav.js';
import { type Beside, renderGuide } from './render.js';
import type { GuidePlan } from './types.js';

/** Of a WAV file: 93 dB from the hiss of its dither to full scale, more than any room has. */
const BITS = 16;

/** A recording as bytes, what it is called in messages, and how far it lies above A4 = 440 Hz. */
export interface GuideRecording {
  readonly bytes: Uint8Array;
  readonly label: string;
  readonly tuningCents: number;
}

/** What kind of sound file a guide is. */
export type GuideFormat = 'wav' | 'mp3';

/**
 * A sound file of the plan: one channel, or with `recording` two, the recording left and the piano right.
 * @throws InputError where the recording cannot be decoded there
 */
export async function guideFile(
  plan: GuidePlan,
  recording: GuideRecording | null,
  format: GuideFormat,
): Promise<Uint8Array> {
  const channels = renderGuide(plan, recording === null ? null : await besideOf(plan, recording));
  if (format === 'mp3') return encodeMp3(channels, PLAY_RATE);
  return encodeWav(
    channels.map((channel, i) => dither(channel, BITS, i + 1)),
    PLAY_RATE,
    BITS,
  );
}

async function besideOf(plan: GuidePlan, { bytes, label, tuningCents }: GuideRecording): Promise<Beside> {
  const parts = plan.events.flatMap((event) => (event.kind === 'recording' ? [event] : []));
  const from = Math.min(...parts.map((part) => part.from));
  const to = Math.max(...parts.map((part) => part.to));
  return { ...(await decodePlayable(bytes, label, { from, to, tuningCents })), from };
}
