/** Bytes → Recording: the one entry of the stage. */
import { InputError, UsageError } from '../errors.js';
import { createKeeper, type Keeper } from './keeper.js';
import { checkClaim, checkKept } from './length.js';
import { createMixer, type Downmix } from './mix.js';
import {
  HIGHEST_RATE,
  LOWEST_RATE,
  MOST_CHANNELS,
  type OpenAudio,
  type PcmBlock,
  tooManyChannels,
} from './open-audio.js';
import { createPages } from './pages.js';
import { openAudio } from './recognise.js';
import { audibleSide, createSideKeeper } from './side.js';
import { ANALYSIS_RATE, type Recording } from './types.js';
import { createWarnings } from './warnings.js';

export type { PcmBlock } from './open-audio.js';

/** The part of a recording that is kept, in seconds from its start. */
export interface SecondsRange {
  readonly fromSeconds?: number;
  readonly toSeconds?: number;
}

/** What is kept of a recording. */
export interface DecodeOptions extends SecondsRange {
  /** Keep the side signal of a stereo recording too; false costs nothing. */
  readonly side?: boolean;
}

/**
 * Decodes a recording block by block at the file's own rate, as it comes: nothing mixed, clamped or repaired.
 * The container is told by content. Memory is bounded by the block and never follows a header's claim.
 *
 * @throws InputError when the bytes are no recording that can be read, or its rate or channels are out of range.
 */
export async function* decodeBlocks(bytes: Uint8Array, label: string): AsyncGenerator<PcmBlock> {
  yield* checkedBlocks(await openAudio(bytes, label), label);
}

/**
 * Decodes a whole recording, or a part of it, to mono at ANALYSIS_RATE: channels are averaged (or the louder
 * one is taken where they cancel), non-finite samples become 0, and the result is resampled with no delay, so
 * that sample i is at time i / 16000 of the recording. `label` is how the input is called in messages.
 *
 * With a `range` only that part is kept: sample 0 of the Recording then lies at `fromSeconds` (to the nearest
 * 1/16000 s), and the caller adds it to every time. `source.seconds` is the length of what was kept.
 *
 * With `side` the difference of left and right is kept too, on the same clock as the mono signal (`Recording.side`).
 * It is null where the channels cancel: which of them has its polarity turned round is not known, nor then what
 * sits in the middle.
 *
 * @throws InputError when the bytes are no recording that can be read, hold no sound in the range, or more than
 *   LONGEST_SECONDS of it.
 * @throws UsageError when the range is empty.
 */
export async function decodeRecording(
  bytes: Uint8Array,
  label: string,
  options: DecodeOptions = {},
): Promise<Recording> {
  const from = options.fromSeconds ?? 0;
  const to = options.toSeconds ?? Number.POSITIVE_INFINITY;
  if (!(from >= 0 && from < to)) {
    throw new UsageError(
      `the part from ${from} s to ${to} s is empty: its start must lie before its end and not below 0.`,
    );
  }
  const audio = await openAudio(bytes, label);
  checkClaim(audio, { from, to }, label);
  const wanted = { from, to, side: options.side ?? false };
  const first = await decodeOnce(audio, label, wanted, { gain: 1, channel: null });
  // Rare, so a second pass is cheaper than keeping every channel: what to do is known only at the end.
  const again = first.secondPass;
  return (again === null ? first : await decodeOnce(audio, label, wanted, again)).recording;
}

/** What is kept: a part in seconds, and whether the side signal too. */
interface Wanted {
  readonly from: number;
  readonly to: number;
  readonly side: boolean;
}

interface Pass {
  readonly recording: Recording;
  /** How to mix in a second pass when the first came out badly, else null. */
  readonly secondPass: Downmix | null;
}

async function decodeOnce(
  audio: OpenAudio,
  label: string,
  { from, to, side: sideWanted }: Wanted,
  downmix: Downmix,
): Promise<Pass> {
  const mixer = createMixer(downmix);
  let kept: Keeper<Float32Array> | null = null;
  let side: ReturnType<typeof createSideKeeper> | null = null;
  let sampleRate = 0;
  let channels = 0;
  let samples = 0;
  let lost = 0;
  for await (const block of checkedBlocks(audio, label)) {
    if (kept === null) {
      ({ sampleRate } = block);
      channels = block.channels.length;
      kept = createKeeper(createPages(), sampleRate, { from, to });
      if (sideWanted && channels > 1 && downmix.channel === null) {
        side = createSideKeeper(sampleRate, { from, to }, downmix.gain);
      }
    }
    const length = block.channels[0]!.length;
    samples += length;
    if (block.lost === true) lost += length;
    side?.add(block.channels);
    if (!kept.add(mixer.mix(block.channels))) break;
    checkKept(kept.length() / ANALYSIS_RATE, label);
  }
  if (kept === null)
    throw new InputError(`${label} holds no sound that can be decoded: it is empty or damaged.`);
  const complete = kept.finish();
  const apart = side?.finish() ?? null;
  const mixed = mixer.facts();
  if (mixed.finite === 0)
    throw new InputError(`${label} holds no sound: none of its samples is a finite number.`);
  if (kept.length() === 0) {
    throw new InputError(
      `${label} ends at ${(samples / sampleRate).toFixed(1)} s, before the part that starts at ${from} s.`,
    );
  }
  const taken = kept.take();
  const secondPass = mixer.better(audio.unboundedPeaks);
  const warnings = createWarnings({
    claimedSeconds: complete ? audio.claimedSeconds : null,
    damaged: complete && audio.damaged === true,
    readSeconds: (samples - lost) / sampleRate,
    lostSeconds: lost / sampleRate,
    downmix,
    mixed,
  });
  const source = {
    container: audio.container,
    sampleRate,
    channels,
    seconds: taken.length / ANALYSIS_RATE,
    warnings,
  };
  return {
    recording: {
      samples: taken,
      ...(sideWanted ? { side: audibleSide(apart, taken) } : {}),
      sampleRate: ANALYSIS_RATE,
      source,
    },
    secondPass,
  };
}

/** Blocks of one rate and number of channels, both in range: a change on the way is damage, and is dropped. */
async function* checkedBlocks(audio: OpenAudio, label: string): AsyncGenerator<PcmBlock> {
  let format: { rate: number; channels: number } | null = null;
  for await (const block of audio.blocks()) {
    if (format === null) {
      format = { rate: block.sampleRate, channels: block.channels.length };
      checkFormat(format.rate, format.channels, label);
    }
    if (block.sampleRate === format.rate && block.channels.length === format.channels) yield block;
  }
}

function checkFormat(rate: number, channels: number, label: string): void {
  if (!Number.isInteger(rate) || rate < LOWEST_RATE || rate > HIGHEST_RATE) {
    throw new InputError(
      `${label} has a sample rate of ${rate} Hz: ${LOWEST_RATE} to ${HIGHEST_RATE} Hz are read.`,
    );
  }
  if (channels > MOST_CHANNELS) throw new InputError(tooManyChannels(label, channels));
}
