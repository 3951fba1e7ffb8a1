/** The options of `notes`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import { addGroup, flag, taking } from './command.js';
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

/** `notes`, as asked for; null where nothing was said. */
export interface NotesPlan extends MelodyPlan {
  /** `fitting`: laid out on a terminal, the list elsewhere. */
  readonly print: 'fitting' | 'list' | 'json';
  readonly midi: string | null;
  readonly musicXml: string | null;
  readonly pitchTrack: string | null;
  readonly outFolder: string | null;
  readonly force: boolean;
  readonly quiet: boolean;
}

interface Given extends GivenHearing, GivenMusic {
  readonly json?: true;
  readonly list?: true;
  readonly midi?: string;
  readonly musicxml?: string;
  readonly pitchTrack?: string;
  readonly out?: string;
  readonly force?: true;
  readonly quiet?: true;
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
  addGroup(command, 'What is written:', [
    flag('--json', 'print the melody as JSON in place of the list'),
    flag('--list', 'print the note list also on a terminal'),
    taking('--midi <file>', 'write a MIDI file', parsePath),
    taking('--musicxml <file>', 'write the score as MusicXML', parsePath),
    taking('--pitch-track <file>', 'write the pitch over time as CSV', parsePath),
    taking('--out <folder>', 'write all of these into a folder', parsePath),
    flag('--force', 'write over files that are there'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, HEARING_HEADING, hearingOptions());
  addGroup(command, MUSIC_HEADING, musicOptions());
  return command;
}

function planFrom(inputs: readonly string[], given: Given): NotesPlan {
  const input = oneInput('notes', inputs);
  checkTogether(given);
  return {
    input,
    print: given.json ? 'json' : given.list ? 'list' : 'fitting',
    midi: given.midi ?? null,
    musicXml: given.musicxml ?? null,
    pitchTrack: given.pitchTrack ?? null,
    outFolder: given.out ?? null,
    force: given.force ?? false,
    quiet: given.quiet ?? false,
    hearing: hearingPlanOf(given),
    music: musicPlanOf(given),
  };
}

/** Refuses options that contradict each other or would do nothing. */
function checkTogether({ json, list, force, midi, musicxml, pitchTrack, out }: Given): void {
  if (json && list) throw new UsageError('--json and --list exclude each other: choose one to be printed.');
  if (force && (midi ?? musicxml ?? pitchTrack ?? out) === undefined) {
    throw new UsageError(
      '--force does nothing without a file to write: give --midi, --musicxml, --pitch-track or --out too.',
    );
  }
}
