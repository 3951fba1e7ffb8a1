/**
 * M4A and MP4: mediabunny finds the packets (index before or after the sound, or in fragments), and
 * @audio/decode-aac decodes them. Its own reading of M4A would hold the whole sound in memory and take quadratic
 * time on long files. Times come from the container, the edit list (ISO/IEC 14496-12 8.6.6) taken out.
 */
import type { InputAudioTrack } from 'mediabunny';
import { InputError } from '../errors.js';
import { type DecoderSetup, decodePackets } from './aac-packets.js';
import { isCookie } from './alac.js';
import { tagAt, uint32BigAt } from './bytes.js';
import { boundChunks } from './mp4-tables.js';
import type { OpenAudio } from './open-audio.js';

export async function openMp4(bytes: Uint8Array, label: string): Promise<OpenAudio> {
  const { Input, BufferSource, MP4, QTFF, EncodedPacketSink, Logging, LogLevel } = await import('mediabunny');
  Logging.level = LogLevel.Silent;

  const input = new Input({ formats: [MP4, QTFF], source: new BufferSource(boundChunks(bytes)) });
  const tracks = await intact(label, () => input.getTracks());
  if (tracks.length === 0) throw damagedIndex(label);
  const track = await intact(label, () => input.getPrimaryAudioTrack());
  if (track === null) throw new InputError(`${label} is an MP4 file without a sound track.`);
  const setup = await intact(label, () => decoderSetup(bytes, track));
  if (setup === null) {
    throw new InputError(
      `${label} is an MP4 file whose sound is neither AAC nor Apple Lossless: save it as one of these, or as WAV.`,
    );
  }
  if ('alac' in setup && !isCookie(setup.alac)) throw damagedIndex(label);
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
    throw damagedIndex(label);
  }
}

function damagedIndex(label: string): InputError {
  return new InputError(
    `${label} is an MP4 file whose index is damaged or missing: copy it again from where it was recorded.`,
  );
}

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
