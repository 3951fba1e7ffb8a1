/** The options of `notes`, and the plan they make. */
import { Command } from 'commander';
import { addGroup, taking } from './command.js';
import { oneInput } from './inputs.js';
import {
  type GivenHearing,
  type GivenMusic,
  HEARING_HEADING,
  hearingOptions,
  hearingPlanOf,
  type MelodyPlan,
  MUSIC_HEADING,
  musicOptions,
  musicPlanOf,
} from './melody-options.js';
import { parsePath } from './values.js';
import {
  type GivenWriting,
  WRITING_HEADING,
  type WritingPlan,
  writingOptions,
  writingPlanOf,
} from './writing-options.js';

/** `notes`, as asked for; null where nothing was said. */
export interface NotesPlan extends MelodyPlan, WritingPlan {
  readonly pitchTrack: string | null;
}

interface Given extends GivenHearing, GivenMusic, GivenWriting {
  readonly pitchTrack?: string;
}

const EXAMPLES = `
Examples:
  cantilena notes song.m4a
      the melody, line by line
  cantilena notes song.m4a > song.txt
      its note list, to be corrected by hand
  cantilena notes song.txt --midi song.mid --key Bb
      the corrected list, as MIDI in B flat
  cantilena song.mp3 --source mix --from 0:42 --to 1:10
      a part of a song, taken for a voice with a band
  cantilena notes song.m4a --out song --bpm 92 --meter 3/4
      all files, bars counted from the first note
`;

/** The command; `done` is called with the plan once the arguments are read. */
export function notesCommand(done: (plan: NotesPlan) => void): Command {
  const command = new Command('notes')
    .description('Writes the melody of a recording, or of a note list, JSON or MIDI file made before.')
    .usage('<input> [options]')
    .argument('[input...]', 'recording, note list, melody as JSON, or MIDI file; - is standard input')
    .helpOption('-h, --help', 'print this')
    .addHelpText('after', EXAMPLES)
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  const pitchTrack = taking('--pitch-track <file>', 'write the pitch over time as CSV', parsePath);
  addGroup(command, WRITING_HEADING, writingOptions([pitchTrack]));
  addGroup(command, HEARING_HEADING, hearingOptions());
  addGroup(command, MUSIC_HEADING, musicOptions());
  return command;
}

function planFrom(inputs: readonly string[], given: Given): NotesPlan {
  return {
    input: oneInput('notes', inputs),
    ...writingPlanOf(given, [given.pitchTrack]),
    pitchTrack: given.pitchTrack ?? null,
    hearing: hearingPlanOf(given),
    music: musicPlanOf(given),
  };
}
