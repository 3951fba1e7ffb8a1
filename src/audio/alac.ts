/**
 * What of Apple Lossless may be given to @audio/decode-aac 1.6.0, which trusts both: a configuration with a false block
 * length asks for gigabytes, and a damaged packet is decoded for as many samples as it says, which takes minutes.
 *
 * Source: Apple, "ALACMagicCookieDescription.txt" and ALACDecoder.cpp (2011, Apache License 2.0), whose fields these are.
 */
import { uint32BigAt } from './bytes.js';

/** Places in the configuration, which begins with four bytes of version. */
const [BLOCK_AT, CHANNELS_AT] = [4, 13];
/** Longest block, in samples a channel: four times the 4096 that encoders write. */
const LONGEST_BLOCK = 16_384;
const BITS = [16, 20, 24, 32];
const MOST_CHANNELS = 8;
/** Elements of one channel, of two, and of the lowest sounds. */
const [SINGLE, PAIR, LOW] = [0, 1, 3];

/** Whether the configuration is one: block length, bits, the limit of the code's parameter, channels. */
export function isCookie(cookie: Uint8Array): boolean {
  const block = uint32BigAt(cookie, BLOCK_AT);
  const [bits, limit, channels] = [cookie[9]!, cookie[12]!, cookie[CHANNELS_AT]!];
  return (
    block > 0 &&
    block <= LONGEST_BLOCK &&
    BITS.includes(bits) &&
    limit > 0 &&
    limit <= 16 &&
    channels > 0 &&
    channels <= MOST_CHANNELS
  );
}

/**
 * Whether a packet begins as one of its configuration does: with the element of its channels, and no more samples than a
 * block. Three bits of element, four of its number, twelve zeros, one that a number of samples follows, two of shift, one
 * of escape; then the number, 32 bits.
 */
export function isLosslessPacket(packet: Uint8Array, cookie: Uint8Array): boolean {
  const element = (packet[0] ?? 0xff) >> 5;
  const channels = cookie[CHANNELS_AT]!;
  if (channels === 1 ? element !== SINGLE && element !== LOW : channels === 2 ? element !== PAIR : false)
    return false;
  const told = ((packet[2] ?? 0) >> 4) & 1;
  const samples = (uint32BigAt(packet, 2) % 2 ** 25) * 2 ** 7 + ((packet[6] ?? 0) >> 1);
  return told === 0 || samples <= uint32BigAt(cookie, BLOCK_AT);
}
