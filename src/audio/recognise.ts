/** Which container the bytes are, by content: names lie. Each reader and its decoder are loaded when needed. */
import { InputError } from '../errors.js';
import { decodePackets } from './aac-packets.js';
import { adtsConfig, adtsPackets, isAdts } from './adts-frames.js';
import { decodeByteStream } from './byte-stream.js';
import { endOfId3, tagAt, uint32BigAt } from './bytes.js';
import { findMp3Start, type Mp3Start } from './mp3-frames.js';
import { readOggFacts } from './ogg-pages.js';
import type { OpenAudio } from './open-audio.js';

const WHAT_IS_READ = 'WAV, MP3, FLAC, Ogg Vorbis, Ogg Opus and M4A/AAC recordings are read';

/**
 * Recognises and opens. `label` is how the input is called in messages.
 * @throws InputError when it is empty, of another kind, or has no readable index.
 */
export async function openAudio(bytes: Uint8Array, label: string): Promise<OpenAudio> {
  if (bytes.length === 0) throw new InputError(`${label} is empty: a recording or a note list is wanted.`);

  const riff = tagAt(bytes, 0);
  if (['RIFF', 'RF64', 'BW64'].includes(riff) && tagAt(bytes, 8) === 'WAVE') {
    return (await import('./wav.js')).openWav(bytes, label);
  }
  if (tagAt(bytes, 4) === 'ftyp' || (tagAt(bytes, 4) === 'moov' && uint32BigAt(bytes, 0) <= bytes.length)) {
    return (await import('./mp4.js')).openMp4(bytes, label);
  }
  if (riff === 'OggS') return openOgg(bytes, label);

  const start = Math.min(endOfId3(bytes), bytes.length);
  const content = bytes.subarray(start);
  if (tagAt(content, 0) === 'fLaC') return (await import('./flac.js')).openFlac(content);
  if (isAdts(content, 0)) return openAdts(content);
  const mp3 = findMp3Start(content, 0);
  if (mp3 !== null) return openMp3(content.subarray(mp3.at), mp3);
  throw new InputError(`${label} is not a recording that can be read: ${WHAT_IS_READ}.`);
}

/** Bytes of the slowest MP3 in a second: 8 kbit/s (ISO/IEC 13818-3, 2.4.2.3). */
const LEAST_MP3_BYTES = 1000;

/** mpg123 gives two equal channels for a mono file: the header decides. */
function openMp3(bytes: Uint8Array, { claimedSeconds, mono }: Mp3Start): OpenAudio {
  async function* blocks() {
    const createDecoder = async () => (await import('@audio/decode-mp3')).decoder();
    for await (const block of decodeByteStream(bytes, createDecoder)) {
      yield mono ? { ...block, channels: block.channels.slice(0, 1) } : block;
    }
  }
  const heldSeconds = bytes.length / LEAST_MP3_BYTES;
  return { container: 'mp3', claimedSeconds, heldSeconds, unboundedPeaks: false, blocks };
}

function openOgg(bytes: Uint8Array, label: string): OpenAudio {
  const { codec, claimedSeconds, heldSeconds, intact } = readOggFacts(bytes);
  if (codec === 'other') {
    throw new InputError(
      `${label} is an Ogg file that holds neither Vorbis nor Opus: save it as one of these, or as WAV.`,
    );
  }
  const createDecoder =
    codec === 'opus'
      ? async () => (await import('@audio/decode-opus')).decoder()
      : async () => (await import('@audio/decode-vorbis')).decoder();
  return {
    container: `ogg-${codec}`,
    claimedSeconds,
    ...(heldSeconds === null ? {} : { heldSeconds }),
    damaged: !intact,
    unboundedPeaks: false,
    blocks: () => decodeByteStream(bytes, createDecoder),
  };
}

function openAdts(bytes: Uint8Array): OpenAudio {
  return {
    container: 'adts-aac',
    claimedSeconds: null,
    unboundedPeaks: false,
    blocks: () => decodePackets(adtsPackets(bytes), { asc: adtsConfig(bytes) }),
  };
}
