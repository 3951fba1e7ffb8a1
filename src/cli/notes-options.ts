/** The options of `notes`, and the plan they make. */
import { Command, Option } from 'commander';
import { UsageError } from '../errors.js';
import type { HandSize } from '../hand/types.js';
import type { HearRequest } from '../pipeline/options.js';
import { similarCommand } from './commands.js';
import { type Meter, oneOf, parseBpm, parseMeter, parsePath, parseTime } from './values.js';

/** How a recording is heard; null where nothing was said. */
export interface HearingPlan {
  readonly source: HearRequest['source'] | null;
  /** Seconds. */
  readonly from: number | null;
  /** Seconds. */
  readonly to: number | null;
  /** A note name or a frequency, read by pitch-values.ts. */
  readonly lowest: string | null;
  readonly highest: string | null;
}

/** `notes`, as asked for; null where nothing was said. */
export interface NotesPlan {
  /** Path of the input, `-` for standard input. */
  readonly input: string;
  /** `fitting`: laid out on a terminal, the list elsewhere. */
  readonly print: 'fitting' | 'list' | 'json';
  readonly midi: string | null;
  readonly musicXml: string | null;
  readonly pitchTrack: string | null;
  readonly outFolder: string | null;
  readonly force: boolean;
  readonly quiet: boolean;
  readonly hearing: HearingPlan;
  /** Beats a minute. */
  readonly bpm: number | null;
  /** Beats in a bar, and what note a beat is. */
  readonly beatsPerBar: number | null;
  readonly beatUnit: 4 | 8 | null;
  /** Seconds of the first downbeat. */
  readonly downbeat: number | null;
  /** A key name, read by pitch-values.ts. */
  readonly key: string | null;
  readonly hand: HandSize;
}

interface Given {
  readonly json?: true;
  readonly list?: true;
  readonly midi?: string;
  readonly musicxml?: string;
  readonly pitchTrack?: string;
  readonly out?: string;
  readonly force?: true;
  readonly quiet?: true;
  readonly source?: HearRequest['source'];
  readonly from?: number;
  readonly to?: number;
  readonly lowest?: string;
  readonly highest?: string;
  readonly bpm?: number;
  readonly meter?: Meter;
  readonly downbeat?: number;
  readonly key?: string;
  readonly hand?: HandSize;
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
  const group = (heading: string, options: readonly Option[]) => {
    for (const option of options) command.addOption(option.helpGroup(heading));
  };
  group('What is written:', [
    flag('--json', 'print the melody as JSON in place of the list'),
    flag('--list', 'print the note list also on a terminal'),
    taking('--midi <file>', 'write a MIDI file', parsePath),
    taking('--musicxml <file>', 'write the score as MusicXML', parsePath),
    taking('--pitch-track <file>', 'write the pitch over time as CSV', parsePath),
    taking('--out <folder>', 'write all of these into a folder', parsePath),
    flag('--force', 'write over files that are there'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  group('How a recording is heard:', [
    taking(
      '--source <kind>',
      'solo: one voice or piano; mix: a voice with a band; auto (default): hear which',
      oneOf(['auto', 'solo', 'mix']),
    ),
    taking('--from <time>', 'start of the part to hear, 1:23.5 or seconds', parseTime),
    taking('--to <time>', 'end of the part to hear', parseTime),
    taking('--lowest <note>', 'lowest note to expect, E2 or 82Hz (default 55Hz; mix 82Hz)', asWritten),
    taking('--highest <note>', 'highest note to expect (default 1500Hz; mix 1047Hz)', asWritten),
  ]);
  group('What is known of the music:', [
    taking('--bpm <number>', 'beats a minute (default: heard)', parseBpm),
    taking('--meter <meter>', 'beats in a bar: 3, 3/4 or 6/8 (default: heard)', parseMeter),
    taking('--downbeat <time>', 'time of a first beat of a bar (default: heard)', parseTime),
    taking('--key <key>', 'key, "F# minor": notes are spelt for it', asWritten),
    taking('--hand <size>', 'small, medium (default) or large', oneOf(['small', 'medium', 'large'])),
  ]);
  return command;
}

function flag(name: string, words: string): Option {
  return new Option(name, words);
}

function taking(name: string, words: string, parse: (option: string, text: string) => unknown): Option {
  const option = new Option(name, words);
  return option.argParser((text: string) => parse(option.long!, text));
}

function asWritten(_option: string, text: string): string {
  return text;
}

function planFrom(inputs: readonly string[], given: Given): NotesPlan {
  const [input] = inputs;
  if (input === undefined) {
    throw new UsageError('there is no input: name a recording, as in cantilena notes song.m4a.');
  }
  if (inputs.length > 1) {
    const meant = similarCommand(input);
    if (meant !== null) throw new UsageError(`there is no command ${input}: did you mean ${meant}?`);
    throw new UsageError(
      `one input is taken, and ${inputs.length} were given (${inputs.join(', ')}): a name with spaces needs quotes.`,
    );
  }
  if (input === '')
    throw new UsageError('the name of the input is empty: name a recording, or - for standard input.');
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
    hearing: {
      source: given.source ?? null,
      from: given.from ?? null,
      to: given.to ?? null,
      lowest: given.lowest ?? null,
      highest: given.highest ?? null,
    },
    bpm: given.bpm ?? null,
    beatsPerBar: given.meter?.beatsPerBar ?? null,
    beatUnit: given.meter?.beatUnit ?? null,
    downbeat: given.downbeat ?? null,
    key: given.key ?? null,
    hand: given.hand ?? 'medium',
  };
}

/** Refuses options that contradict each other or would do nothing. */
function checkTogether({ json, list, force, midi, musicxml, pitchTrack, out, from, to }: Given): void {
  if (json && list) throw new UsageError('--json and --list exclude each other: choose one to be printed.');
  if (force && (midi ?? musicxml ?? pitchTrack ?? out) === undefined) {
    throw new UsageError(
      '--force does nothing without a file to write: give --midi, --musicxml, --pitch-track or --out too.',
    );
  }
  if (to !== undefined && to <= (from ?? 0)) {
    throw new UsageError(
      `--to ${to} s does not lie after ${from === undefined ? 'the start' : `--from ${from} s`}: the part would be empty.`,
    );
  }
}
