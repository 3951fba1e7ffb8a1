/** The command `scales`: notes that are named, and melodies that are read. */
import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlaces, type Places } from './places.js';
import { inProcess } from './run.js';

let places: Places;

interface PrintedScale {
  readonly tonic: string;
  readonly mode: string;
  readonly score: number;
  readonly outside: readonly string[];
  readonly deciders: readonly string[];
}

/** A tune in C three times and a semitone up twice, in lines of ten notes, two beats a second; one foreign, unsure note. */
function modulating(): string {
  const tune = [60, 62, 64, 65, 67, 64, 62, 60, 59, 60, 67, 69, 71, 72, 71, 69, 67, 65, 62, 60];
  const names = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
  const midis = [...tune, ...tune, ...tune, ...tune.map((midi) => midi + 1), ...tune.map((midi) => midi + 1)];
  midis[4] = 66;
  const rows = midis.map((midi, i) => {
    const name = `${names[midi % 12]}${Math.floor(midi / 12) - 1}`;
    return `${Math.floor(i / 10) + 1}\t-\t-\t${(0.5 * i).toFixed(3)}\t0.450\t${name}\t0\t${i === 4 ? '0.30' : '0.95'}\t-`;
  });
  return [
    '# cantilena note list 1',
    '# tempo-bpm 120',
    '# beats-per-bar 4',
    '# first-downbeat 0.000',
    ...rows,
    '',
  ].join('\n');
}

beforeAll(() => {
  places = makePlaces();
  writeFileSync(places.at('up.notes'), modulating());
});
afterAll(() => places.remove());

const namesIn = (text: string) => [...text.matchAll(/^\d+=?\. (.*) \(/gm)].map((match) => match[1]);

describe('notes that are named', () => {
  test('are held by the scales that are printed, best first', async () => {
    const { status, stdout, stderr } = await inProcess(['scales', 'F', 'G', 'A', 'C', 'D', '--top', '3']);
    expect([status, stderr]).toEqual([0, '']);
    expect(namesIn(stdout)).toEqual(['F major', 'D minor', 'D dorian']);
    expect(stdout).toContain('   holds every note: F G A C D; not sung: Bb E\n');
    expect(stdout).toContain('against D dorian: not sung: Bb (for it), B (for D dorian)');
    expect(stdout).toContain('the same notes as D minor: where the lines come to rest decides\n');
    expect(stdout).toContain('│   C   │   D   │   E   │  F*   │   G   │   A   │       │');
  });

  test.each([
    ['signs, small letters and octaves', ['b♭3', 'eb4', 'f', 'C5']],
    ['one argument', ['Bb, Eb F,C']],
    ['sharps for flats', ['A#', 'd#', 'F', 'C']],
    ['German names', ['B', 'es', 'F', 'C', '--names', 'german']],
    ['solfège', ['si♭', 'MIb', 'fa', 'do', '--names', 'solfege']],
    ['degrees', ['1', '4', '5', '2', '--names', 'degrees', '--key', 'Bb']],
  ])('may be written with %s', async (_, words) => {
    const { status, stdout } = await inProcess(['scales', ...words, '--json']);
    expect(status).toBe(0);
    const { notes } = JSON.parse(stdout) as { notes: { midi: number }[] };
    expect(notes.map(({ midi }) => midi % 12)).toEqual([10, 3, 5, 0]);
  });

  test('are named in the system that was asked for', async () => {
    const { stdout } = await inProcess(['scales', 'H', 'Cis', 'D', 'Fis', '-n', '1', '--names', 'german']);
    expect(stdout).toMatch(/^1\. H minor \(/);
    expect(stdout).toContain('holds every note: H Cis D Fis');
    const degrees = await inProcess([
      'scales',
      '1',
      '2',
      'b3',
      '5',
      '-n',
      '1',
      '--names',
      'degrees',
      '--key',
      'Cm',
    ]);
    expect(degrees.stdout).toContain('1. C minor (');
    expect(degrees.stdout).toContain('holds every note: 1 2 ♭3 5');
  });

  test('that cannot be told apart share a place', async () => {
    const { stdout } = await inProcess(['scales', 'D', '--top', '144']);
    expect(stdout).toMatch(/^\d+=\. /m);
    // The place where a tie begins, cut after its first scale: the page says how many more there are, and where to cut.
    const { scales } = JSON.parse((await inProcess(['scales', 'D', '--top', '144', '--json'])).stdout) as {
      scales: { place: number }[];
    };
    const first = scales.findIndex(({ place }, i) => scales[i + 1]?.place === place);
    const tied = scales.filter(({ place }) => place === scales[first]!.place).length;
    const cut = await inProcess(['scales', 'D', '--top', String(first + 1)]);
    const more = tied === 2 ? '1 more is' : `${tied - 1} more are`;
    expect(cut.stdout).toContain(`\n${more} as likely as the last: --top ${first + tied}\n`);
    expect((await inProcess(['scales', 'D', '--top', String(first + tied)])).stdout).not.toContain('--top');
  });

  test.each([
    [
      ['F', 'Q'],
      'Q is not the name of a note: write a letter A to G, with # or b where needed, as in F, Bb or F#4.',
    ],
    [
      ['F', 'H'],
      'H is not the name of a note: write a letter A to G, with # or b where needed, as in F, Bb or F#4, or give --names german, which has it.',
    ],
    [['F G Hb'], 'Hb is not the name of a note: write a letter A to G'],
    [['Hb'], 'Hb is neither a file nor the name of a note: write a letter'],
    [['Fiss', 'H', '--names', 'german'], 'Fiss is not the name of a note: write a letter A to H'],
    [
      [],
      'there is nothing to find scales for: name notes, as in cantilena scales F G A C D, or a recording.',
    ],
    [[''], 'there is nothing to find scales for'],
    [['F', 'G', '--bpm', '90'], '--bpm is for recordings and files, and names of notes were given'],
    [['F', 'G', '--source', 'mix'], '--source is for recordings and files'],
    [
      ['1', '3', '--names', 'degrees'],
      'degrees are counted from a tonic: say which with --key, as in --key F.',
    ],
    [['F', '--top', '0'], '--top takes a whole number from 1 to 144, not 0'],
    [['F', '--names', 'french'], '--names takes english, german, solfège or degrees, not french'],
    [['F', '--hand', 'small'], 'scales has no option --hand'],
  ])('with a mistake, %j, end in one sentence', async (words, sentence) => {
    const { status, stdout, stderr } = await inProcess(['scales', ...words]);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(`cantilena: ${sentence}`);
    expect(stderr.trim().split('\n')).toHaveLength(1);
  });
});

describe('a melody', () => {
  test('says where to listen: line, bar and time', async () => {
    const { status, stdout } = await inProcess(['scales', places.at('up.notes'), '--top', '2']);
    expect(status).toBe(0);
    expect(stdout).toMatch(/does not hold .*line 1 bar 2 \(0:02\.0\)/s);
    expect(stdout).toMatch(/may be a mishearing, check by ear:/);
  });

  test('that changes its key has a ranking for each region', async () => {
    const { stdout } = await inProcess(['scales', places.at('up.notes')]);
    const [, changes] = stdout.split('the key changes\n');
    expect(changes).toMatch(/^ {3}lines 1–6, bars 1–15, from 0:00\.0: C major \(/m);
    expect(changes).toMatch(/^ {3}lines 7–10, bars 16–25, from 0:30\.0: Db major \(/m);
  });

  test('is given as JSON with the numbers of its notes', async () => {
    const { stdout } = await inProcess(['scales', places.at('up.notes'), '--json', '--top', '3', '--quiet']);
    const { scales, regions, notes } = JSON.parse(stdout) as {
      scales: PrintedScale[];
      regions: { first: number; last: number; scales: PrintedScale[] }[];
      notes: { midi: number; line: number; bar: number; start: number }[];
    };
    expect(scales).toHaveLength(3);
    expect(Object.keys(scales[0]!).slice(0, 3)).toEqual(['tonic', 'mode', 'score']);
    expect(regions.map(({ first, last, scales: own }) => [first, last, own[0]?.tonic])).toEqual([
      [1, 60, 'C'],
      [61, 100, 'Db'],
    ]);
    expect(notes[4]).toEqual({ midi: 66, line: 1, bar: 2, start: 2 });
  });

  test('has the key that is given first', async () => {
    const { stdout } = await inProcess(['scales', places.at('list.txt'), '--key', 'Bb', '--top', '2']);
    expect(namesIn(stdout)[0]).toBe('Bb major');
  });

  test('comes from standard input, from MIDI, and from JSON of notes', async () => {
    const { stdout: json } = await inProcess(['notes', places.at('list.txt'), '--json']);
    const piped = await inProcess(['scales', '-', '--top', '1'], { stdin: json });
    const read = await inProcess(['scales', places.at('list.txt'), '--top', '1']);
    expect(piped.stdout).toBe(read.stdout);
    expect((await inProcess(['scales', places.at('two.mid')])).status).toBe(0);
  });

  test('is refused where it is not there, and two are', async () => {
    const gone = await inProcess(['scales', places.at('gone.m4a')]);
    expect([gone.status, gone.stderr]).toEqual([3, expect.stringContaining('there is no file')]);
    const sung = await inProcess(['scales', 'do', 're', 'mi']);
    expect(sung).toMatchObject({ status: 2, stdout: '' });
    expect(sung.stderr).toMatch(
      /do is not the name of a note: .* or give --names solfège, which has it\.\n$/,
    );
    const two = await inProcess(['scales', places.at('list.txt'), places.at('two.mid')]);
    expect([two.status, two.stderr]).toEqual([2, expect.stringContaining('one input is taken')]);
    const named = await inProcess(['scales', places.at('list.txt'), '--json', '--names', 'german']);
    expect([named.status, named.stderr]).toEqual([2, expect.stringContaining('leave --names out')]);
  });
});

describe('on a terminal', () => {
  test.each([60, 100])('of %i columns no line is longer, and the tonic is marked', async (terminal) => {
    for (const names of ['english', 'german', 'solfège', 'degrees']) {
      const { stdout } = await inProcess(['scales', places.at('up.notes'), '--names', names], {
        terminal,
        env: { NO_COLOR: '1' },
      });
      const lines = stdout.split('\n');
      expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(terminal);
      expect(stdout).toContain('* tonic; keys without a name are not in the scale');
      expect(lines.filter((line) => /│.*\*.*│/.test(line))).toHaveLength(1);
    }
  });

  test('the names of the scales stand out, and in a pipe nothing does', async () => {
    const seen = await inProcess(['scales', 'F', 'G'], { terminal: 80 });
    expect(seen.stdout).toContain('\x1b[1m1');
    expect((await inProcess(['scales', 'F', 'G'])).stdout).not.toContain('\x1b');
  });
});
