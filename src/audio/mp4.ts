/**
 * M4A and MP4: mediabunny finds the packets (index before or after the sound, or in fragments), and
 * @audio/decode-aac turns them into samples one by one. Its own reading of M4A would hold the whole sound in
 * memory and take quadratic time on long files.
 *
 * Times come from the container: the first packets are the encoder's run-up and carry times before 0 (edit
 * list, ISO/IEC 14496-12 8.6.6), and the sound ends where the last packet's time ends. A packet that cannot be
 * decoded is replaced by silence of its length, so that what follows keeps its time.
 */
import type { InputAudioTrack } from 'mediabunny';
import { InputError } from '../errors.js';
import { tagAt, uint32BigAt } from './bytes.js';
import type { OpenAudio, PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

/** Delay in samples of spectral band replication's filter banks, as @audio/decode-aac's authors measured it. */
const BAND_REPLICATION_DELAY = 962;
/** Samples a packet from which band replication is at work: twice the 1024 of the AAC core. */
const BAND_REPLICATION_FRAME = 2048;
/** Longest silence before the sound that a file may ask for, in seconds: more is an edited or damaged file. */
const LONGEST_LEAD_SECONDS = 1;

export async function openMp4(bytes: Uint8Array, label: string): Promise<OpenAudio> {
  const { Input, BufferSource, MP4, QTFF, EncodedPacketSink, Logging, LogLevel } = await import('mediabunny');
  Logging.level = LogLevel.Silent;

  const track = await intact(label, () =>
    new Input({
      formats: [MP4, QTFF],
      source: new BufferSource(bytes),
    }).getPrimaryAudioTrack(),
  );
  if (track === null) throw new InputError(`${label} is an MP4 file without a sound track.`);
  const setup = await intact(label, () => decoderSetup(bytes, track));
  if (setup === null) {
    throw new InputError(
      `${label} is an MP4 file whose sound is neither AAC nor Apple Lossless: save it as one of these, or as WAV.`,
    );
  }
  return {
    container: 'alac' in setup ? 'mp4-alac' : 'mp4-aac',
    claimedSeconds: await intact(label, () => track.getDurationFromMetadata()),
    unboundedPeaks: false,
    blocks: () => decodePackets(new EncodedPacketSink(track).packets(), setup),
  };
}

/** Every failure of the demuxer means the same to the user: the container's index cannot be followed. */
async function intact<T>(label: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch {
    throw new InputError(
      `${label} is an MP4 file whose index is damaged or missing: copy it again from where it was recorded.`,
    );
  }
}

type DecoderSetup = { readonly asc: Uint8Array } | { readonly alac: Uint8Array };

async function decoderSetup(bytes: Uint8Array, track: InputAudioTrack): Promise<DecoderSetup | null> {
  if (track.codec === 'aac') {
    const description = (await track.getDecoderConfig())?.description;
    return description instanceof Uint8Array ? { asc: description } : null;
  }
  const cookie = (await track.getInternalCodecId()) === 'alac' ? losslessCookie(bytes) : null;
  return cookie === null ? null : { alac: cookie };
}

/** Length of the `alac` box with its configuration: 8 of box header, 4 of version, 24 of configuration. */
const COOKIE_BOX_BYTES = 36;

/** The configuration of Apple Lossless, which lies in a box named like the sample description around it. */
function losslessCookie(bytes: Uint8Array): Uint8Array | null {
  for (let at = bytes.indexOf(0x61, 4); at >= 0; at = bytes.indexOf(0x61, at + 1)) {
    if (tagAt(bytes, at) === 'alac' && uint32BigAt(bytes, at - 4) === COOKIE_BOX_BYTES) {
      return bytes.slice(at + 4, at - 4 + COOKIE_BOX_BYTES);
    }
  }
  return null;
}

interface Packet {
  readonly data: Uint8Array;
  /** Seconds. */
  readonly timestamp: number;
  /** Seconds. */
  readonly duration: number;
}

async function* decodePackets(packets: AsyncIterable<Packet>, setup: DecoderSetup): AsyncGenerator<PcmBlock> {
  const { decoder: createDecoder } = await import('@audio/decode-aac');
  const decoder = await createDecoder(setup);
  const decode = (data: Uint8Array) => {
    try {
      const { channelData, sampleRate } = quietly(() => decoder.decode(data));
      return channelData.length > 0 ? { sampleRate, channels: channelData } : null;
    } catch {
      return null;
    }
  };
  try {
    let format: { sampleRate: number; channels: number; frame: number } | null = null;
    // Time of the next decoded sample, in samples; before 0 is run-up.
    let position = 0;
    for await (const packet of ended(packets)) {
      const decoded = decode(packet.data);
      if (format === null) {
        // FAAD2 keeps its first frame back, so the first samples belong to the packet that brings them out.
        if (decoded === null) continue;
        const { sampleRate, channels } = decoded;
        format = {
          sampleRate,
          channels: channels.length,
          frame: channels[0]!.length,
        };
        position = Math.round(packet.timestamp * sampleRate);
        if (format.frame >= BAND_REPLICATION_FRAME && 'asc' in setup) position -= BAND_REPLICATION_DELAY;
        const lead = Math.min(position, LONGEST_LEAD_SECONDS * sampleRate);
        if (lead > 0) yield silence(format, lead, false);
      }
      const fits = decoded?.sampleRate === format.sampleRate && decoded.channels.length === format.channels;
      const block = fits ? decoded : silence(format, format.frame, true);
      const length = block.channels[0]!.length;
      const from = Math.min(length, Math.max(0, -position));
      const end = packet.last
        ? Math.round((packet.timestamp + packet.duration) * format.sampleRate)
        : Infinity;
      const to = Math.min(length, Math.max(from, end - position));
      position += length;
      if (to > from)
        yield {
          ...block,
          channels: block.channels.map((channel) => channel.subarray(from, to)),
        };
    }
  } finally {
    decoder.free();
  }
}

/** The packets, the last one marked; a demuxer that fails on a cut file ends the sound there. */
async function* ended(packets: AsyncIterable<Packet>): AsyncGenerator<Packet & { readonly last: boolean }> {
  let held: Packet | null = null;
  try {
    for await (const packet of packets) {
      if (held !== null)
        yield {
          data: held.data,
          timestamp: held.timestamp,
          duration: held.duration,
          last: false,
        };
      held = packet;
    }
  } catch {
    // What was found so far is all there is; the length says that the rest is missing.
  }
  if (held !== null)
    yield {
      data: held.data,
      timestamp: held.timestamp,
      duration: held.duration,
      last: true,
    };
}

function silence(format: { sampleRate: number; channels: number }, length: number, lost: boolean): PcmBlock {
  const channels = Array.from({ length: format.channels }, () => new Float32Array(length));
  return { sampleRate: format.sampleRate, channels, lost };
}
