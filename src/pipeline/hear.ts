import type { Recording } from '../audio/types.js';
import { NoMelodyError } from '../errors.js';
import { notesOf } from '../notes/notes-of.js';
import type { HeardNotes } from '../notes/types.js';
import { trackMix } from '../pitch/mix.js';
import type { Network } from '../pitch/network/session.js';
import { trackSolo } from '../pitch/solo.js';
import { decideSource } from '../pitch/source.js';
import type { HeardAs, PitchTrack } from '../pitch/types.js';
import { midiToHz } from '../units.js';
import { checkHearRequest, type HearOptions, type HearRequest, hearOptionsFor } from './options.js';

/** What was heard in a recording. */
export interface Heard {
  readonly heardAs: HeardAs;
  readonly track: PitchTrack;
  readonly heard: HeardNotes;
}

/**
 * Recording → pitch track → notes. With the source `auto` the recording decides which tracker listens.
 *
 * @param soloNetwork what hears a solo; without it, the one whose weights come with the program
 * @throws UsageError for options that cannot be met, NoMelodyError where no note is found.
 */
export async function hear(
  recording: Recording,
  request: HearRequest,
  soloNetwork?: Network,
): Promise<Heard> {
  const { source } = checkHearRequest(request);
  const heardAs: HeardAs = source === 'auto' ? decideSource(recording) : { source, why: null };
  const track = await trackWith(recording, hearOptionsFor(request, heardAs.source), soloNetwork);
  const heard = notesOf(track, recording.samples.length / recording.sampleRate);
  if (heard.notes.length === 0) {
    throw new NoMelodyError('no melody was found: nothing in the recording holds a pitch for long enough.');
  }
  return { heardAs: { source: heardAs.source, why: heardAs.why }, track, heard };
}

async function trackWith(
  recording: Recording,
  options: HearOptions,
  soloNetwork?: Network,
): Promise<PitchTrack> {
  const { source, lowestMidi, highestMidi } = options;
  if (source === 'solo') {
    const range = { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) };
    return trackSolo(recording, range, soloNetwork);
  }
  return trackMix(recording, { lowestMidi, highestMidi, side: recording.side ?? null });
}
