/** A melody, and its recording where that is wanted, → the bytes of a guide. */
import { dither } from '../../audio/dither.js';
import { decodePlayable, PLAY_RATE } from '../../audio/playable.js';
import { encodeWav } from '../../audio/write-wav.js';
import { type Beside, renderGuide } from './render.js';
import type { GuidePlan } from './types.js';

/** Most decibels are in 16 bits with dither: 93 dB from hiss to full scale, more than any room has. */
const BITS = 16;

/** A recording as bytes, what it is called in messages, and how far it lies above A4 = 440 Hz. */
export interface GuideRecording {
  readonly bytes: Uint8Array;
  readonly label: string;
  readonly tuningCents: number;
}

/**
 * A WAV file of the plan: one channel, or with `recording` two, the recording left and the piano right.
 * @throws InputError where the recording cannot be decoded there
 */
export async function guideWav(plan: GuidePlan, recording: GuideRecording | null): Promise<Uint8Array> {
  const channels = renderGuide(plan, recording === null ? null : await besideOf(plan, recording));
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
