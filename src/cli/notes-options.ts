/** The options of `notes`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import { addGroup, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { oneInput } from './inputs.js';
import {
  type GivenHearing,
  type GivenMusic,
  HEARING_HEADING,
  hearingOptions,
  hearingPlanOf,
  INPUT_KINDS,
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
  readonly sheet: string | null;
  readonly svg: string | null;
  readonly plot: string | null;
  /** Put the recording into the sheet. */
  readonly embedAudio: boolean;
}

interface Given extends GivenHearing, GivenMusic, GivenWriting {
  readonly pitchTrack?: string;
  readonly sheet?: string;
  readonly svg?: string;
  readonly plot?: string;
  readonly embedAudio?: true;
}

const EXAMPLES: readonly Example[] = [
  ['cantilena notes song.m4a', 'the melody, line by line'],
  ['cantilena notes song.m4a > song.txt', 'its note list, to be corrected by hand'],
  ['cantilena notes song.txt --midi song.mid --key Bb', 'the corrected list, as MIDI in B flat'],
  [
    'cantilena song.mp3 --source mix --from 0:42 --to 1:10',
    'a part of a song, taken for a voice with a band',
  ],
  ['cantilena notes song.m4a --sheet song.html', 'a page to practise from, on paper or in a browser'],
  [
    'cantilena notes song.m4a --out song --bpm 92 --meter 3/4',
    'all files, where tempo and time signature are known',
  ],
];

/** The command; `done` is called with the plan once the arguments are read. */
export function notesCommand(done: (plan: NotesPlan) => void): Command {
  const command = new Command('notes')
    .description('Writes the melody of a recording, or of a note list, JSON or MIDI file made before.')
    .usage('<input> [options]')
    .argument('[input...]', INPUT_KINDS)
    .helpOption('-h, --help', 'print this')
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  const own = [
    taking('--sheet <file>', 'write a practice sheet, one HTML file for screen and paper', parsePath),
    flag('--embed-audio', 'put the recording into the sheet too'),
    taking('--svg <file>', 'write the notation alone as SVG', parsePath),
    taking('--plot <file>', 'write pitch curve and notes as a plot in SVG', parsePath),
    taking('--pitch-track <file>', 'write the pitch over time as CSV', parsePath),
  ];
  addGroup(command, WRITING_HEADING, writingOptions(own));
  addGroup(command, HEARING_HEADING, hearingOptions());
  addGroup(command, MUSIC_HEADING, musicOptions());
  return addExamples(command, EXAMPLES);
}

function planFrom(inputs: readonly string[], given: Given): NotesPlan {
  if (given.embedAudio && given.sheet === undefined && given.out === undefined) {
    throw new UsageError('--embed-audio does nothing without a sheet: give --sheet or --out too.');
  }
  return {
    input: oneInput('notes', inputs),
    ...writingPlanOf(given, [given.pitchTrack, given.sheet, given.svg, given.plot]),
    pitchTrack: given.pitchTrack ?? null,
    sheet: given.sheet ?? null,
    svg: given.svg ?? null,
    plot: given.plot ?? null,
    embedAudio: given.embedAudio ?? false,
    hearing: hearingPlanOf(given),
    music: musicPlanOf(given),
  };
}
