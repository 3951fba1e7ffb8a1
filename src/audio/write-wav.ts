import { WAV_HEADER_BYTES, writeWavHeader } from './wav-header.js';

/**
 * A plain WAV file of `channels` (same length, −1..1; beyond that is clamped, non-finite becomes 0).
 * `sampleRate` in hertz; `bits` a sample, 16 unless said. Full scale is 2^(bits − 1), so that reading it back
 * gives the same value to half a step.
 *
 * @throws RangeError when there is no channel or their lengths differ.
 */
export function encodeWav(
  channels: readonly Float32Array[],
  sampleRate: number,
  bits: 16 | 24 = 16,
): Uint8Array {
  const frames = channels[0]?.length;
  if (frames === undefined || channels.some((channel) => channel.length !== frames)) {
    throw new RangeError('a WAV file needs channels of one length');
  }
  const sampleBytes = bits / 8;
  const dataBytes = frames * channels.length * sampleBytes;
  // A chunk of odd length is followed by a pad byte, which its size does not count.
  const file = new Uint8Array(WAV_HEADER_BYTES + dataBytes + (dataBytes % 2));
  writeWavHeader(file, { float: false, bits, channels: channels.length, sampleRate }, dataBytes);
  const fullScale = 2 ** (bits - 1);
  let at = WAV_HEADER_BYTES;
  for (let frame = 0; frame < frames; frame++) {
    for (const channel of channels) {
      const sample = channel[frame]!;
      const scaled = Number.isFinite(sample) ? Math.round(sample * fullScale) : 0;
      const value = Math.min(Math.max(scaled, -fullScale), fullScale - 1);
      for (let byte = 0; byte < sampleBytes; byte++) file[at++] = value >> (8 * byte);
    }
  }
  return file;
}
