import { UsageError } from '../errors.js';
import type { Source } from '../pitch/types.js';
import { midiToHz } from '../units.js';

/** How a recording is to be listened to, as asked for. */
export interface HearRequest {
  /** `auto` decides from the recording. */
  readonly source: Source | 'auto';
  /** MIDI number; null: what fits the source. */
  readonly lowestMidi: number | null;
  readonly highestMidi: number | null;
}

/** How a recording is listened to. */
export interface HearOptions {
  readonly source: Source;
  /** Lowest pitch looked for, MIDI number. */
  readonly lowestMidi: number;
  /** Highest pitch looked for, MIDI number. */
  readonly highestMidi: number;
}

/**
 * Solo: 55 Hz (A1), below the lowest bass voice, to 1500 Hz (about F#6), above the highest soprano. Mix: from E2
 * (82 Hz), since a band's bass lies below and is easily taken for the melody (measured: raw pitch accuracy .68
 * from E2, .65 from A1 on rendered songs), to C6 (1047 Hz).
 */
export function defaultHearOptions(source: Source): HearOptions {
  return source === 'solo'
    ? { source, lowestMidi: 33, highestMidi: 90.2 }
    : { source, lowestMidi: 40, highestMidi: 84 };
}

/** The frame of the solo tracker holds two periods of 40 Hz; at 16 kHz a whistle up to 4 kHz has four samples. */
const LOWEST_HZ = 40;
const HIGHEST_HZ = 4000;

/** What was asked for, with the range of the source where none was given; throws UsageError as checkHearOptions does. */
export function hearOptionsFor({ lowestMidi, highestMidi }: HearRequest, source: Source): HearOptions {
  const defaults = defaultHearOptions(source);
  return checkHearOptions({
    source,
    lowestMidi: lowestMidi ?? defaults.lowestMidi,
    highestMidi: highestMidi ?? defaults.highestMidi,
  });
}

/** Checks what was asked for before anything is heard: of `auto` with the wider range, that of a solo. */
export function checkHearRequest(request: HearRequest): HearRequest {
  hearOptionsFor(request, request.source === 'auto' ? 'solo' : request.source);
  return request;
}

/** Checks the options once; throws UsageError with what would work. */
export function checkHearOptions(options: HearOptions): HearOptions {
  const low = midiToHz(options.lowestMidi);
  const high = midiToHz(options.highestMidi);
  if (low < LOWEST_HZ)
    throw new UsageError('--lowest lies below what can be heard out: use E1 (41 Hz) or higher.');
  if (high > HIGHEST_HZ)
    throw new UsageError('--highest lies above what can be heard out: use B7 (3951 Hz) or lower.');
  if (options.highestMidi - options.lowestMidi < 4) {
    throw new UsageError(
      '--lowest and --highest leave no room for a melody: put at least four semitones between.',
    );
  }
  return options;
}
