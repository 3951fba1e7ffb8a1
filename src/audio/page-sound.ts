/** A recording as it can be put into a web page: compressed, of a kind that browsers play. */
import { decodePlayable, PLAY_RATE } from './playable.js';
import { openAudio } from './recognise.js';
import type { Container, PageSound } from './types.js';
import { encodeMp3 } from './write-mp3.js';

/**
 * Kinds that are taken as they are: small, and played by the browsers of today (MP3, AAC, FLAC and Ogg; common
 * practice).
 */
const AS_IT_IS: Partial<Record<Container, string>> = {
  mp3: 'audio/mpeg',
  flac: 'audio/flac',
  'ogg-vorbis': 'audio/ogg',
  'ogg-opus': 'audio/ogg',
  'mp4-aac': 'audio/mp4',
};

/**
 * The file's own bytes where browsers play them; of other kinds (WAV, ALAC, bare AAC frames, which have no clock) the
 * part heard, in mono, as MP3.
 * @throws InputError as decoding does
 */
export async function soundForPage(
  bytes: Uint8Array,
  label: string,
  { from, to }: { readonly from: number; readonly to: number },
): Promise<PageSound> {
  const { container } = await openAudio(bytes, label);
  const mediaType = AS_IT_IS[container];
  if (mediaType !== undefined) return { bytes, mediaType, startSeconds: 0 };
  const { samples } = await decodePlayable(bytes, label, { from, to, tuningCents: 0 });
  return { bytes: await encodeMp3([samples], PLAY_RATE), mediaType: 'audio/mpeg', startSeconds: from };
}
