/** Karaoke clips with the band on the left and the voice on the right: put together at a level of one's own. */
import type { Recording } from '../../src/audio/types.js';
import { unpacked } from '../dsp/unpacked.js';

/** The voice over the band, decibels of the mean power of the whole clip; or no band at all. */
export type VoiceLevel = number | 'alone';

function powerOf(samples: Float32Array): number {
  return samples.reduce((sum, s) => sum + s * s, 0) / samples.length;
}

/**
 * The band, and the voice brought to its level over it, in one channel; brought down where it would clip.
 *
 * @param clip decoded with its side: mono + side is the left channel, mono − side the right one
 * @throws Error for a clip in one channel
 */
export function karaokeMix(clip: Recording, level: VoiceLevel): Recording {
  const { samples: mono } = clip;
  if (!clip.side) throw new Error('a karaoke clip needs a band on the left and a voice on the right.');
  const side = unpacked(clip.side);
  const voice = mono.map((m, i) => m - side[i]!);
  const band = mono.map((m, i) => m + side[i]!);
  const voiceGain = level === 'alone' ? 1 : Math.sqrt((10 ** (level / 10) * powerOf(band)) / powerOf(voice));
  const bandGain = level === 'alone' ? 0 : 1;
  const mix = voice.map((v, i) => voiceGain * v + bandGain * band[i]!);
  const peak = mix.reduce((most, s) => Math.max(most, Math.abs(s)), 1);
  return { ...clip, samples: mix.map((s) => s / peak), side: null };
}
