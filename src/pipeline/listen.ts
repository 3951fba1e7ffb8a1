/** Recording → notes on the recording's own time line, and the track they came from. */
import { decodeRecording } from '../audio/decode.js';
import type { Recording } from '../audio/types.js';
import { letGo } from '../dsp/packed.js';
import { NoMelodyError } from '../errors.js';
import type { PitchTrack } from '../pitch/types.js';
import { bandBeats } from '../rhythm/band/band-beats.js';
import { bandHarmony } from '../rhythm/band/band-harmony.js';
import { amplitudeToDb } from '../units.js';
import { type Heard, hear } from './hear.js';
import type { MeasureInput } from './measure.js';
import type { HearRequest } from './options.js';
import type { InputBytes } from './read-input.js';

export interface Listened {
  readonly input: MeasureInput;
  readonly track: PitchTrack;
  readonly source: Recording['source'];
}

/** The part of a recording that is heard, in seconds; null: from its start, to its end. */
export interface Part {
  readonly from: number | null;
  readonly to: number | null;
}

/** A recording whose loudest sample lies below this, in decibels, is called silent (our choice). */
const SILENT_DB = -60;

/** What else to try, by what was asked for. */
const OTHER_SOURCE: Readonly<Record<HearRequest['source'], string>> = {
  auto: '--source solo or --source mix',
  solo: '--source mix for a voice with a band',
  mix: '--source solo for a voice or an instrument alone',
};

/**
 * Decodes the part from `from` to `to`, hears it, and moves every time by `from`. The length then reaches from
 * the start of the recording to the end of the part. What was decoded is let go of, where the input allows it.
 * @throws InputError, NoMelodyError
 */
export async function listen(input: InputBytes, part: Part, request: HearRequest): Promise<Listened> {
  const fromSeconds = part.from ?? 0;
  const { recording, heardAs, track, heard } = await decodeAndHear(input, part, request);
  const { grid } = track;
  const band = heardAs.source === 'mix' ? bandBeats(recording) : null;
  return {
    input: {
      notes: heard.notes.map((note) => ({
        ...note,
        start: note.start + fromSeconds,
        end: note.end + fromSeconds,
      })),
      tuningCents: heard.tuningCents,
      seconds: heard.seconds + fromSeconds,
      lineStarts: null,
      heardAs,
      harmony: heardAs.source === 'mix' ? bandHarmony(recording, heard.tuningCents) : null,
      band: band && { ...band, seconds: band.seconds.map((time) => time + fromSeconds) },
    },
    track: { ...track, grid: { ...grid, firstCentreSeconds: grid.firstCentreSeconds + fromSeconds } },
    source: recording.source,
  };
}

/**
 * The recording comes back without its side, which is let go of as it is heard: only what finds the singer needs it, and
 * an hour's takes 115 MB.
 */
async function decodeAndHear(
  { bytes, label, release }: InputBytes,
  { from, to }: Part,
  request: HearRequest,
): Promise<Heard & { readonly recording: Recording }> {
  const recording = await decodeRecording(bytes, label, {
    ...(from === null ? {} : { fromSeconds: from }),
    ...(to === null ? {} : { toSeconds: to }),
    side: request.source !== 'solo',
  });
  release?.();
  const { side, ...mono } = recording;
  const sideHeard = (before: number) => {
    if (side) letGo(side, before);
  };
  const heard = await hear(recording, request, undefined, sideHeard).catch((error: unknown) => {
    throw error instanceof NoMelodyError ? new NoMelodyError(whyNothing(mono, label, request)) : error;
  });
  return { ...heard, recording: mono };
}

function whyNothing(
  { samples, source: { warnings } }: Recording,
  label: string,
  { source }: HearRequest,
): string {
  const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  if (amplitudeToDb(peak) < SILENT_DB) {
    return `${label} is silent: nothing in it is louder than ${SILENT_DB} dB; record it again, nearer.`;
  }
  const other = OTHER_SOURCE[source];
  const beside = warnings.length === 0 ? '' : ` (${warnings.join(' ').replace(/\.$/, '')})`;
  return `no melody was found in ${label}${beside}, because nothing in it holds a pitch for long enough: try --lowest and --highest for very low or high notes, and ${other}.`;
}
