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
 * @param sideHeard is told, on the way, when the side of the recording before a sample is needed no more
 * @throws UsageError for options that cannot be met, NoMelodyError where no note is found.
 */
export async function hear(
  recording: Recording,
  request: HearRequest,
  soloNetwork?: Network,
  sideHeard?: (before: number) => void,
): Promise<Heard> {
  const { source } = checkHearRequest(request);
  const heardAs: HeardAs = source === 'auto' ? decideSource(recording) : { source, why: null };
  const options = hearOptionsFor(request, heardAs.source);
  const track = await trackWith(recording, options, soloNetwork, sideHeard);
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
  sideHeard?: (before: number) => void,
): Promise<PitchTrack> {
  const { source, lowestMidi, highestMidi } = options;
  if (source === 'solo') {
    sideHeard?.(recording.samples.length);
    const range = { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) };
    return trackSolo(recording, range, soloNetwork);
  }
  const side = recording.side ?? null;
  return trackMix(recording, { lowestMidi, highestMidi, side, ...(sideHeard ? { sideHeard } : {}) });
}
