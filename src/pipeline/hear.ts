import type { Recording } from '../audio/types.js';
import { NoMelodyError } from '../errors.js';
import { notesOf } from '../notes/notes-of.js';
import type { HeardNotes } from '../notes/types.js';
import { trackSolo } from '../pitch/solo.js';
import type { PitchTrack } from '../pitch/types.js';
import { midiToHz } from '../units.js';
import { checkHearOptions, type HearOptions } from './options.js';

/** What was heard in a recording. */
export interface Heard {
  readonly track: PitchTrack;
  readonly heard: HeardNotes;
}

/**
 * Recording → pitch track → notes.
 *
 * @throws UsageError for options that cannot be met, NoMelodyError where no note is found.
 */
export async function hear(recording: Recording, options: HearOptions): Promise<Heard> {
  const { source, lowestMidi, highestMidi } = checkHearOptions(options);
  const seconds = recording.samples.length / recording.sampleRate;
  const track =
    source === 'solo'
      ? trackSolo(recording, { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) })
      : await (await import('../pitch/predominant.js')).trackPredominant(recording, {
          lowestMidi,
          highestMidi,
        });
  const heard = notesOf(track, seconds);
  if (heard.notes.length === 0) {
    throw new NoMelodyError('no melody was found: nothing in the recording holds a pitch for long enough.');
  }
  return { track, heard };
}
