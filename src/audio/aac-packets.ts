/**
 * AAC and Apple Lossless packets to samples, one by one, each at the time that its container gives.
 *
 * Packets before time 0 are the encoder's run-up and are dropped; the sound ends where the last packet's time
 * ends. A packet that cannot be decoded is replaced by silence of its length, so that what follows keeps its
 * time.
 */
import { isLosslessPacket } from './alac.js';
import type { PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

/** Delay in samples of spectral band replication's filter banks, as @audio/decode-aac's authors measured it. */
const BAND_REPLICATION_DELAY = 962;
/** Samples a packet from which band replication is at work: twice the 1024 of the AAC core. */
const BAND_REPLICATION_FRAME = 2048;
/** Longest silence before the sound that a file may ask for, in seconds: more is an edited or damaged file. */
const LONGEST_LEAD_SECONDS = 1;

/** AudioSpecificConfig of AAC, or the configuration ("magic cookie") of Apple Lossless. */
export type DecoderSetup = { readonly asc: Uint8Array } | { readonly alac: Uint8Array };

export interface Packet {
  readonly data: Uint8Array;
  /** Seconds. */
  readonly timestamp: number;
  /** Seconds. */
  readonly duration: number;
}

export async function* decodePackets(
  packets: AsyncIterable<Packet> | Iterable<Packet>,
  setup: DecoderSetup,
): AsyncGenerator<PcmBlock> {
  const { decoder: createDecoder } = await import('@audio/decode-aac');
  // A configuration that the decoder refuses, such as 7,350 Hz, leaves nothing to decode.
  const decoder = await createDecoder(setup).catch(() => null);
  if (decoder === null) return;
  const decode = (data: Uint8Array) => {
    if ('alac' in setup && !isLosslessPacket(data, setup.alac)) return null;
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

/**
 * The packets, the last one marked. A demuxer that fails on a cut file ends the sound there, and so does a packet
 * without bytes: an index may claim billions of packets that the file does not hold.
 */
async function* ended(
  packets: AsyncIterable<Packet> | Iterable<Packet>,
): AsyncGenerator<Packet & { readonly last: boolean }> {
  let held: Packet | null = null;
  try {
    for await (const packet of packets) {
      if (packet.data.length === 0) break;
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
