/** What the program says to what: each case is run in this process, and most of them as a process. */
import { fixture } from './run.js';

export interface Case {
  readonly name: string;
  /** `@x` is the file x of the test's folder, `%x` a recording of fixtures/. */
  readonly args: readonly string[];
  readonly stdin?: string | Uint8Array;
  readonly status: number;
  readonly stdout?: RegExp;
  /** All of standard error; nothing where it is left out. */
  readonly stderr?: RegExp;
}

export function argsOf({ args }: Case, at: (name: string) => string): string[] {
  return args.map((arg) =>
    arg.startsWith('@') ? at(arg.slice(1)) : arg.startsWith('%') ? fixture(arg.slice(1)) : arg,
  );
}

const LIST_HEAD = /^# cantilena note list 1\n/;

const DONE: readonly Case[] = [
  {
    name: 'a recording gives the note list',
    args: ['%stereo-sung.flac'],
    status: 0,
    stdout: LIST_HEAD,
    stderr:
      /^\S+stereo-sung\.flac: heard as a solo: [a-z ]+\.\n\S+stereo-sung\.flac: \d+ notes heard in 7\.7 s\.\n$/,
  },
  { name: 'the command may be named', args: ['notes', '@two.mid', '--quiet'], status: 0, stdout: LIST_HEAD },
  { name: 'options may come first', args: ['--quiet', '@two.mid'], status: 0, stdout: LIST_HEAD },
  {
    name: 'a note list is read',
    args: ['@list.txt'],
    status: 0,
    stdout: /\tBb4\t/,
    stderr: /^\S+list\.txt: 12 notes read from a note list\.\n$/,
  },
  {
    name: 'a MIDI file is read',
    args: ['@two.mid'],
    status: 0,
    stdout: /0\.000\t0\.500\tC4.*\n.*0\.500\t1\.000\tE4/,
    stderr: /2 notes read from a MIDI file\.\n$/,
  },
  {
    name: 'standard input is read',
    args: ['-'],
    stdin: '1\t-\t-\t0\t1\tA4\t0\t1\n',
    status: 0,
    stdout: /\tA4\t/,
    stderr: /^standard input: 1 note read from a note list\.\n$/,
  },
  {
    name: 'a list under a # line of another kind is read',
    args: ['-'],
    stdin: '# the second verse\n1\t-\t-\t0\t1\tA4\t0\t1\n',
    status: 0,
    stdout: /\tA4\t/,
    stderr: /^standard input: 1 note read from a note list\.\n$/,
  },
  {
    name: 'help goes to standard output',
    args: ['--help'],
    status: 0,
    stdout: /Usage: cantilena[\s\S]*Examples:\n {2}cantilena song\.m4a/,
  },
  {
    name: 'so does the help of a command',
    args: ['notes', '--help'],
    status: 0,
    stdout: /Usage: cantilena notes[\s\S]*--midi <file>[\s\S]*Examples:\n {2}cantilena notes/,
  },
  {
    name: 'help may be asked for after the input',
    args: ['song.wav', '-h'],
    status: 0,
    stdout: /--midi <file>/,
  },
  { name: 'help is a command too', args: ['help', 'notes'], status: 0, stdout: /--midi <file>/ },
  { name: 'the version is printed', args: ['--version'], status: 0, stdout: /^\d+\.\d+\.\d+\n$/ },
];

const WRONG_ARGUMENTS: readonly Case[] = [
  { name: 'no arguments', args: [], status: 2, stderr: /^cantilena writes down the melody[\s\S]*--help/ },
  {
    name: 'a command without input',
    args: ['notes'],
    status: 2,
    stderr: /there is no input: name a recording/,
  },
  { name: 'an empty name', args: [''], status: 2, stderr: /name of the input is empty/ },
  {
    name: 'two inputs',
    args: ['a b.wav', 'c.wav'],
    status: 2,
    stderr: /one input is taken, and 2 were given \(a b\.wav, c\.wav\)/,
  },
  {
    name: 'a mistyped command',
    args: ['nots', 'a.wav'],
    status: 2,
    stderr: /there is no command nots: did you mean notes\?/,
  },
  {
    name: 'a mistyped command with options that it would take',
    args: ['guid', 'a.wav', '-o', 'b.wav'],
    status: 2,
    stderr: /there is no command guid: did you mean guide\?/,
  },
  {
    name: 'a mistyped command with an option that notes reads in another way',
    args: ['transpos', '@two.mid', '--to', 'G'],
    status: 2,
    stderr: /there is no command transpos: did you mean transpose\?/,
  },
  {
    name: 'help for what is no command',
    args: ['help', 'nots'],
    status: 2,
    stderr: /help is there for the commands only/,
  },
  {
    name: 'a mistyped option',
    args: ['@two.mid', '--midy', 'x'],
    status: 2,
    stderr: /there is no option --midy: did you mean --midi\?/,
  },
  {
    name: 'an option of another command',
    args: ['batch', 'songs', '--out', 'heard', '--force'],
    status: 2,
    stderr: /batch has no option --force: cantilena batch --help lists the options that it has\./,
  },
  {
    name: 'the name that an option has in another command',
    args: ['guide', '@two.mid', '--out', 'x.wav'],
    status: 2,
    stderr: /there is no option --out: did you mean --output\?/,
  },
  {
    name: 'a name that starts with a dash',
    args: ['-song.wav'],
    status: 2,
    stderr: /there is no option -song\.wav: .*; a name that starts with - is written \.\/-song\.wav\./,
  },
  {
    name: 'an argument of a command that takes none',
    args: ['doctor', '--json', 'song.wav'],
    status: 2,
    stderr: /doctor takes options only, and song\.wav is none: cantilena doctor --help lists the options\./,
  },
  {
    name: 'an unknown option',
    args: ['@two.mid', '-x'],
    status: 2,
    stderr: /there is no option -x: cantilena notes --help lists/,
  },
  {
    name: 'an option without its value',
    args: ['@two.mid', '--midi'],
    status: 2,
    stderr: /--midi needs a value after it/,
  },
  {
    name: 'an empty name for a value',
    args: ['@two.mid', '--out', ''],
    status: 2,
    stderr: /--out needs a name after it, and that is empty: give one\./,
  },
  {
    name: 'a highest note that is none',
    args: ['@silence.wav', '--highest', 'H9'],
    status: 2,
    stderr: /not H9: write it as in --highest C6 or --highest 1047Hz\./,
  },
  {
    name: 'an option for a value',
    args: ['@two.mid', '--midi', '--json'],
    status: 2,
    stderr: /--midi needs a name after it and found --json/,
  },
];

const WRONG_VALUES: readonly Case[] = [
  {
    name: 'a tempo that is none',
    args: ['@two.mid', '--bpm', 'fast'],
    status: 2,
    stderr: /--bpm takes a tempo from 4 to 1000 .*, not fast: .* --bpm 92\./,
  },
  {
    name: 'a meter that is none',
    args: ['@two.mid', '--meter', '3/5'],
    status: 2,
    stderr: /--meter takes .*, not 3\/5: .* --meter 3\/4\./,
  },
  {
    name: 'a time that is none',
    args: ['@two.mid', '--downbeat', '1:75'],
    status: 2,
    stderr: /--downbeat takes a time .*, not 1:75: .* --downbeat 1:23\.5\./,
  },
  {
    name: 'a key that is none',
    args: ['@two.mid', '--key', 'H major'],
    status: 2,
    stderr: /--key takes a key .*, not H major: .* --key "F# minor"\./,
  },
  {
    name: 'a hand that is none',
    args: ['@two.mid', '--hand', 'huge'],
    status: 2,
    stderr: /--hand takes small, medium or large, not huge/,
  },
  {
    name: 'a source that is none',
    args: ['@silence.wav', '--source', 'band'],
    status: 2,
    stderr: /--source takes auto, solo or mix, not band/,
  },
  {
    name: 'a lowest note that is none',
    args: ['@silence.wav', '--lowest', '90'],
    status: 2,
    stderr: /--lowest takes a note name .*, not 90: .* --lowest 82Hz\./,
  },
  {
    name: 'a lowest note out of reach',
    args: ['@silence.wav', '--lowest', 'C0'],
    status: 2,
    stderr: /--lowest lies below/,
  },
  {
    name: 'limits that leave no room',
    args: ['@silence.wav', '--lowest', 'C4', '--highest', 'D4'],
    status: 2,
    stderr: /leave no room/,
  },
  {
    name: 'an empty part',
    args: ['@silence.wav', '--from', '5', '--to', '0:04'],
    status: 2,
    stderr: /--to 4 s does not lie after --from 5 s/,
  },
  {
    name: '--json with --list',
    args: ['@two.mid', '--json', '--list'],
    status: 2,
    stderr: /exclude each other/,
  },
  {
    name: '--force without a file',
    args: ['@two.mid', '--force'],
    status: 2,
    stderr: /--force does nothing/,
  },
  ...['--from 1', '--to 1', '--source mix', '--lowest E2', '--highest C6', '--pitch-track t.csv'].map(
    (option) => ({
      name: `${option} for a MIDI file`,
      args: ['@two.mid', ...option.split(' ')],
      status: 2,
      stderr: new RegExp(`${option.split(' ')[0]} is for recordings, and \\S+two\\.mid is a MIDI file`),
    }),
  ),
];

const WRONG_TARGET: readonly Case[] = [
  {
    name: 'a target that is there',
    args: ['@two.mid', '--midi', '@there.mid'],
    status: 2,
    stderr: /there\.mid is already there: give another name, or --force/,
  },
  {
    name: 'a target that is a folder',
    args: ['@two.mid', '--midi', '@folder'],
    status: 2,
    stderr: /folder is a folder: name a file/,
  },
  {
    name: 'a target in no folder',
    args: ['@two.mid', '--midi', '@no/x.mid'],
    status: 2,
    stderr: /there is no folder \S+no; make it first/,
  },
  {
    name: 'a target that is the input',
    args: ['@two.mid', '--midi', '@two.mid', '--force'],
    status: 2,
    stderr: /two\.mid is the input itself/,
  },
  {
    name: 'one target for two results',
    args: ['@silence.wav', '--midi', '@x', '--pitch-track', '@folder/../x'],
    status: 2,
    stderr: /x would be written twice/,
  },
  {
    name: '--out below a file',
    args: ['@two.mid', '--out', '@there.mid'],
    status: 2,
    stderr: /cannot be written: \S+there\.mid is not a folder; write somewhere else\./,
  },
];

const WRONG_INPUT: readonly Case[] = [
  {
    name: 'a missing file',
    args: ['@nothing.wav'],
    status: 3,
    stderr: /there is no file \S+nothing\.wav: check its name and folder\.\n$/,
  },
  {
    name: 'a missing file with the name of a command',
    args: ['Note'],
    status: 3,
    stderr: /there is no file Note: .*or did you mean the command notes\?/,
  },
  {
    name: 'a folder',
    args: ['@folder'],
    status: 3,
    stderr:
      /folder is a folder: name one recording in it, or hear all of them with cantilena batch \S+folder --out heard\.\n$/,
  },
  {
    name: 'a path through a file',
    args: ['@two.mid/x'],
    status: 3,
    stderr: /cannot be read: a part of its path is not a folder/,
  },
  { name: 'nothing on standard input', args: ['-'], stdin: '', status: 3, stderr: /standard input is empty/ },
  { name: 'JSON that is none', args: ['@not-json.json'], status: 3, stderr: /not-json\.json is not JSON/ },
  {
    name: 'JSON of another kind',
    args: ['@other.json'],
    status: 3,
    stderr: /other\.json is not a melody: format/,
  },
  {
    name: 'a note list with a mistake',
    args: ['@wrong-note.txt'],
    status: 3,
    stderr: /wrong-note\.txt, line 6, column 6 \(note\): .*found "H4"/,
  },
  {
    name: 'a note list in UTF-16',
    args: ['@utf16.txt'],
    status: 3,
    stderr: /text in UTF-16: save it as UTF-8/,
  },
  { name: 'a note list in Latin-1', args: ['@latin1.txt'], status: 3, stderr: /another encoding than UTF-8/ },
  {
    name: 'a note list without notes',
    args: ['@no-notes.txt'],
    status: 4,
    stderr: /no-notes\.txt holds no notes/,
  },
  { name: 'a MIDI file that was cut off', args: ['@cut.mid'], status: 3, stderr: /cut\.mid is cut off/ },
  {
    name: 'a name with a line break',
    args: ['@line\nbreak.txt'],
    status: 3,
    stderr: /line break\.txt is text/,
  },
  {
    name: 'text with a # line and no notes',
    args: ['-'],
    stdin: '# A page of words\n\nThis is no list of notes.\n',
    status: 3,
    stderr:
      /standard input is text, and neither a note list nor .*begins with "# cantilena note list 1"\.\n$/,
  },
  {
    name: 'a list whose tabs are lost',
    args: ['-'],
    stdin: '# cantilena note list 1\n1 - - 0 1 A4 0 1\n',
    status: 3,
    stderr: /standard input, line 2: expected 10 fields with tabs between them/,
  },
  {
    name: 'a part beyond the end',
    args: ['%sung-low.wav', '--from', '1:39'],
    status: 3,
    stderr: /sung-low\.wav ends at 10\.9 s, before the part that starts at 99 s/,
  },
];

/** Everything of fixtures/maker/bad-inputs.ts that cannot give a melody. */
const BAD_RECORDINGS: readonly Case[] = (
  [
    ['empty', 3, /is empty/],
    ['text', 3, /is text, and neither a note list nor a melody as JSON/],
    ['nan', 3, /holds no sound: none of its samples is a finite number/],
    ['zero-channels', 3, /0 channels/],
    ['zero-rate', 3, /sample rate of 0 Hz/],
    ['header-only', 3, /holds no sound/],
    ['silence', 4, /silence\.wav is silent: .* record it again/],
    ['noise', 4, /no melody was found in \S+noise\.wav, .* try --lowest and --highest .* --source mix/],
    ['ten-hour-header', 4, /no melody was found in \S+ \(damaged: 0\.0 of 36000\.0 s could be read\)/],
  ] as const
).map(([name, status, stderr]) => ({ name: `a recording: ${name}`, args: [`@${name}.wav`], status, stderr }));

const HEARD_AS_SOLO = /^\S+ heard as a solo: [a-z ]+\.\n\S+ \d notes? heard in 1\.0 s\.\n$/;

/** Inputs that are odd, or damaged in a part, and give their melody; with a word where something is amiss. */
const ODD_RECORDINGS: readonly Case[] = (
  [
    ['some-nan', /3 samples were not finite/],
    ['infinite', /2 samples were not finite/],
    ['truncated', /damaged: 0\.5 of 1\.0 s could be read/],
    ['extensible-24', HEARD_AS_SOLO],
    ['odd-chunk', HEARD_AS_SOLO],
    ['rf64', HEARD_AS_SOLO],
    ['streaming-size-0', HEARD_AS_SOLO],
    ['streaming-size-ffffffff', HEARD_AS_SOLO],
    ['float64', HEARD_AS_SOLO],
    ['eight-bit', HEARD_AS_SOLO],
    ['32-bit', HEARD_AS_SOLO],
  ] as const
).map(([name, stderr]) => ({
  name: `a recording that can be read: ${name}`,
  args: [`@${name}.wav`],
  status: 0,
  // The tone of these inputs is A3, 220 Hz.
  stdout: /\tA3\t/,
  stderr,
}));

/** A process takes half a second to start: these are run as such, and what says the same many times is not. */
export const PROCESS_CASES: readonly Case[] = [
  ...DONE,
  ...WRONG_ARGUMENTS,
  ...WRONG_TARGET,
  ...WRONG_INPUT,
  ...BAD_RECORDINGS,
];

export const CASES: readonly Case[] = [...PROCESS_CASES, ...WRONG_VALUES, ...ODD_RECORDINGS];
