import type { Output } from 'mediabunny';

/** Bits a second a channel: by LAME's authors' account hardly to be told from the original at 44.1 kHz (from memory). */
const BITS_PER_CHANNEL = 112_000;
/** The bit rates of MPEG-1 layer III (ISO/IEC 11172-3, table of 2.4.2.3) that come into question. */
const BIT_RATES = { 1: BITS_PER_CHANNEL, 2: 2 * BITS_PER_CHANNEL } as const;
/** Seconds that are handed over at a time. */
const PART_SECONDS = 5;

/**
 * An MP3 file of one or two `channels` (same length, −1..1) by LAME, in the packages mediabunny and
 * @mediabunny/mp3-encoder. `sampleRate` is 32, 44.1 or 48 kHz.
 *
 * @throws RangeError when there are not one or two channels, or their lengths differ.
 */
export async function encodeMp3(channels: readonly Float32Array[], sampleRate: number): Promise<Uint8Array> {
  const frames = channels[0]?.length;
  if (frames === undefined || channels.length > 2 || channels.some(({ length }) => length !== frames)) {
    throw new RangeError('an MP3 file needs one or two channels of one length');
  }
  // Slow to load, and few guides are MP3.
  const [media, { registerMp3Encoder }] = await Promise.all([
    import('mediabunny'),
    import('@mediabunny/mp3-encoder'),
  ]);
  if (!(await media.canEncodeAudio('mp3'))) registerMp3Encoder();
  const target = new media.BufferTarget();
  const output: Output = new media.Output({ format: new media.Mp3OutputFormat(), target });
  const source = new media.AudioSampleSource({
    codec: 'mp3',
    bitrate: BIT_RATES[channels.length as 1 | 2],
  });
  output.addAudioTrack(source);
  await output.start();
  const part = Math.round(PART_SECONDS * sampleRate);
  for (let at = 0; at < frames; at += part) {
    const length = Math.min(part, frames - at);
    const data = new Float32Array(channels.length * length);
    channels.forEach((channel, i) => {
      data.set(channel.subarray(at, at + length), i * length);
    });
    const sample = new media.AudioSample({
      data,
      format: 'f32-planar',
      numberOfChannels: channels.length,
      sampleRate,
      timestamp: at / sampleRate,
    });
    await source.add(sample);
    sample.close();
  }
  await output.finalize();
  return new Uint8Array(target.buffer!);
}
