import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { midiToHz } from '../../src/units.js';
import { parseRequest } from './arguments.js';
import { DEFAULT_GROUPS, findCases, KARAOKE } from './cases.js';
import { type Hearing, meansOf, nothingHeard, rowsOf } from './evaluate.js';
import { inOurWays } from './label-ways.js';
import { alignTable, reportJson, reportText } from './report.js';
import { takenTable } from './taken.js';
import { readNoteLines, readNoteRows, readPitchLines, readPitchRows, readRenderedTruth } from './truth.js';

describe('truth files', () => {
  test('lines of onset, offset and MIDI number', () => {
    expect(readNoteLines('0.1300\t0.2500\t51.06\n0.35 0.64 47.79\n', 'x')).toEqual([
      { start: 0.13, end: 0.25, pitch: 51.06 },
      { start: 0.35, end: 0.64, pitch: 47.79 },
    ]);
  });

  test('rows of onset, hertz and length: 440 Hz is MIDI 69', () => {
    expect(readNoteRows('1.5,440,0.25\n', 'x')).toEqual([{ start: 1.5, end: 1.75, pitch: 69 }]);
  });

  test('rows of seconds and hertz, 0 Hz being no voice', () => {
    const melody = readPitchRows('0.0,0.0\n0.01,220.0\n', 'x');
    expect([...melody.times]).toEqual([0, 0.01]);
    expect(melody.voiced).toEqual([false, true]);
    expect(melody.pitch[1]).toBe(57);
  });

  test('lines of one MIDI number, the first at 20 ms, 0 being no voice', () => {
    const melody = readPitchLines('0 \n55.5 \n', 'x');
    expect([...melody.times]).toEqual([0.02, 0.04]);
    expect(melody.voiced).toEqual([false, true]);
    expect(melody.pitch[1]).toBe(55.5);
  });

  test('a rendered case without a pitch track is a piano', () => {
    const truth = readRenderedTruth('{"notes":[{"on":0.5,"off":1,"midi":65}]}', 'x');
    expect(truth).toEqual({ notes: [{ start: 0.5, end: 1, pitch: 65 }], melody: null });
  });

  test('a bad row is an error that names the file and the row', () => {
    expect(() => readNoteRows('1,440,0.5\n1,x,0.5\n', 'a.csv')).toThrow('a.csv: row 2');
    expect(() => readNoteLines('1 2\n', 'b.txt')).toThrow('b.txt: row 1');
  });
});

describe('cases', () => {
  let root = '';

  beforeAll(() => {
    root = mkdtempSync(join(tmpdir(), 'cantilena-evaluate-'));
    const put = (path: string, text: string) => {
      mkdirSync(join(root, dirname(path)), { recursive: true });
      writeFileSync(join(root, path), text);
    };
    for (const id of ['3', '1', '2']) {
      put(`singing/ssvd/${id}.flac`, '');
      put(`singing/ssvd/${id}.txt`, '0.5 1.0 60\n');
    }
    put('made/sung-a.flac', '');
    put(
      'made/sung-a.truth.json',
      '{"notes":[{"on":0,"off":1,"midi":60}],"f0HopSeconds":0.01,"f0Hz":[0,440]}',
    );
    put('made/other.flac', '');
    for (const name of ['khair_1_01', 'amy_1_01']) {
      put(`mir1k/${name}.opus`, '');
      put(`mir1k/${name}.pv`, '0\n60\n');
    }
  });

  afterAll(() => rmSync(root, { recursive: true, force: true }));

  const everything = { groups: DEFAULT_GROUPS, half: null, name: '' };

  test('recordings are found in order, the first half is a, and absent parts are told', () => {
    const { cases, absent } = findCases(root, everything);
    expect(cases.map((c) => [c.group, c.name, c.half])).toEqual([
      ['ssvd', '1', 'a'],
      ['ssvd', '2', 'a'],
      ['ssvd', '3', 'b'],
      ['sung', 'sung-a', null],
    ]);
    expect(absent).toEqual(['singing/vocadito']);
  });

  test('a half, a group and a part of the name narrow the choice; absent parts not asked for are not told', () => {
    const only = findCases(root, { groups: ['ssvd'], half: 'b', name: '' });
    expect(only.cases.map((c) => c.name)).toEqual(['3']);
    expect(only.absent).toEqual([]);
    expect(findCases(root, { ...everything, name: 'sung' }).cases.map((c) => c.name)).toEqual(['sung-a']);
  });

  test('sight-singing is parted by turns, in order of name, as the training parts it', () => {
    const { cases } = findCases(root, everything);
    expect(cases.map((c) => c.fold)).toEqual([1, 2, 3, null]);
  });

  test('karaoke clips are there where named, of the singers asked for, as what their level makes them', () => {
    const named = { groups: ['mir1k'], half: null, name: '' } as const;
    const [held, ...others] = findCases(root, named).cases;
    expect(others).toEqual([]);
    expect(held).toMatchObject({ name: 'khair_1_01', source: 'mix', voiceLevel: 0, readings: [] });
    const alone = findCases(root, named, { singers: ['amy'], voiceLevel: 'alone' }).cases;
    expect(alone).toMatchObject([{ name: 'amy_1_01', source: 'solo', voiceLevel: 'alone' }]);
  });

  test('where no notes are known the row has scores of the melody only', () => {
    const [known] = findCases(root, { groups: ['mir1k'], half: null, name: '' }).cases;
    const rows = rowsOf(known!, {
      ...nothingHeard(2),
      taken: null,
      seconds: 2,
      decodeSeconds: 0,
      hearSeconds: 0,
    });
    expect(rows).toMatchObject([{ notes: null, melody: { rpa: 0, oa: 0.5 } }]);
    expect(meansOf(rows)).toMatchObject([{ label: 'mir1k', notes: null, melody: { oa: 0.5 } }]);
    expect(reportText(rows)).not.toContain('confidence');
    expect(JSON.parse(reportJson(rows)).recordings[0].notes).toBeNull();
  });

  test('rows, means and both reports from what was heard', () => {
    const { cases } = findCases(root, { ...everything, name: 'sung' });
    const hearing: Hearing = {
      taken: 'solo',
      track: {
        grid: { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 2 },
        pitch: Float32Array.of(69, 69),
        voiced: Float32Array.of(0.1, 0.9),
        sounding: Float32Array.of(0.1, 0.9),
        onset: new Float32Array(2),
        levelDb: new Float32Array(2),
      },
      heard: {
        notes: [{ start: 0.01, end: 1, midi: 60, pitch: 60.1, confidence: 0.9, other: null }],
        tuningCents: 10,
        seconds: 2,
      },
      seconds: 2,
      decodeSeconds: 0.02,
      hearSeconds: 0.04,
    };
    const rows = rowsOf(cases[0]!, hearing);
    expect(rows).toHaveLength(1);
    expect(rows[0]!.notes!.pitchDifferenceCents).toBeCloseTo(10, 9);
    expect(rows[0]!.notes!.onsetDifferenceMs).toBeCloseTo(10, 9);
    expect(rows[0]!.melody?.oa).toBe(1);
    const [mean] = meansOf(rows);
    expect(mean).toMatchObject({ label: 'sung', count: 1, hearShare: 0.02 });
    expect(mean!.notes).toMatchObject({ con: 1, conp: 1, conpoff: 1 });
    expect(reportText(rows)).toContain('sung sung-a');
    const data = JSON.parse(reportJson(rows));
    expect(data.means[0].notes.conp).toBe(1);
    expect(data.calibration.error).toBeCloseTo(0.1, 9);
  });

  test('a recording in which nothing was heard scores 0, its unvoiced frames apart', () => {
    const { cases } = findCases(root, { ...everything, name: 'sung' });
    const [row] = rowsOf(cases[0]!, {
      ...nothingHeard(2),
      taken: null,
      seconds: 2,
      decodeSeconds: 0,
      hearSeconds: 0,
    });
    expect(row!.notes!.raw.con.f).toBe(0);
    expect(row!.notes!.onsetDifferenceMs).toBeNull();
    // One frame of two is voiced.
    expect(row!.melody).toEqual({ vr: 0, vfa: 0, rpa: 0, rca: 0, oa: 0.5 });
  });

  test('means are over recordings, and over each half where there are halves', () => {
    const row = (name: string, half: 'a' | 'b' | null, f: number) => {
      const score = { precision: f, recall: f, f };
      const scores = { con: score, conp: score, conpoff: score };
      return { ...BLANK, name, half, notes: { ...NO_NOTES, raw: scores, inOurWays: null, aligned: scores } };
    };
    const means = meansOf([row('1', 'a', 1), row('2', 'b', 0.5), row('3', 'a', 0)]);
    expect(means.map((m) => [m.label, m.count, m.notes?.con])).toEqual([
      ['ssvd', 3, 0.5],
      ['ssvd half a', 2, 0.5],
      ['ssvd half b', 1, 0.5],
    ]);
  });
});

test('labels of sight-singing in our ways are a bin of 5.4 Hz lower and 10 ms earlier, and have a mean of their own', () => {
  const [note] = inOurWays([{ start: 1, end: 2, pitch: 57 }]);
  expect(note!.start).toBeCloseTo(0.99, 9);
  expect(note!.end).toBe(2);
  // A3 is 220 Hz; 22,050 / 4096 is 5.383.
  expect(midiToHz(note!.pitch)).toBeCloseTo(220 - 5.383, 3);
  const score = (f: number) => ({ precision: f, recall: f, f });
  const scores = (f: number) => ({ con: score(f), conp: score(f), conpoff: score(f) });
  const notes = { ...NO_NOTES, raw: scores(0.2), inOurWays: scores(0.6), aligned: scores(0.4) };
  const means = meansOf([{ ...BLANK, name: '1', half: null, notes }]);
  expect(means.map((m) => [m.label, m.notes?.conp, m.notes?.alignedConp])).toEqual([
    ['ssvd', 0.2, 0.4],
    ['ssvd, labels in our ways', 0.6, 0.4],
  ]);
});

const NO_NOTES = { referenceCount: 1, pitchDifferenceCents: 0, onsetDifferenceMs: null, claims: [] };

const BLANK = {
  group: 'ssvd',
  source: 'solo',
  reading: '',
  taken: 'solo',
  estimateCount: 1,
  melody: null,
  seconds: 1,
  decodeShare: 0,
  hearShare: 0,
} as const;

describe('arguments', () => {
  test('without options everything is evaluated', () => {
    expect(parseRequest(['x'])).toEqual({
      root: 'x',
      choice: { groups: ['ssvd', 'vocadito', 'sung', 'piano', 'mix'], half: null, name: '' },
      reports: [],
      karaoke: KARAOKE,
      source: null,
      tracker: 'own',
      folds: null,
      json: false,
    });
  });

  test('--only takes groups and folders', () => {
    expect(parseRequest(['x', '--only', 'singing']).choice.groups).toEqual(['ssvd', 'vocadito']);
    expect(parseRequest(['x', '--only', 'made,ssvd']).choice.groups).toEqual([
      'sung',
      'piano',
      'mix',
      'ssvd',
    ]);
  });

  test('karaoke clips are named, with singers and a level; folds and the baseline are asked for', () => {
    const words = ['--only', 'mir1k', '--voice-db', '-5', '--singers', 'amy,bug', '--folds', 'f'];
    expect(parseRequest(['x', ...words, '--tracker', 'contours'])).toMatchObject({
      choice: { groups: ['mir1k'] },
      karaoke: { singers: ['amy', 'bug'], voiceLevel: -5 },
      folds: 'f',
      tracker: 'contours',
    });
    expect(parseRequest(['x', '--voice-db', 'alone']).karaoke.voiceLevel).toBe('alone');
  });

  test('what names nothing is refused', () => {
    expect(() => parseRequest(['x', '--voice-db', 'loud'])).toThrow(
      '--voice-db is a number of decibels or alone, not loud',
    );
    expect(() => parseRequest(['x', '--tracker', 'ear'])).toThrow('--tracker is contours, not ear');
    expect(() => parseRequest(['x', '--tracker', 'contours', '--source', 'auto'])).toThrow(
      'leave out --source auto',
    );
    expect(() => parseRequest([])).toThrow('Give one folder');
    expect(() => parseRequest(['x', '--only', 'opera'])).toThrow('--only opera names nothing');
    expect(() => parseRequest(['x', '--half', 'c'])).toThrow('--half is a or b, not c');
    expect(() => parseRequest(['x', '--source', 'band'])).toThrow('--source is auto, solo or mix, not band');
    expect(() => parseRequest(['x', '--hlaf', 'a'])).toThrow('--hlaf');
  });
});

test('what recordings were taken for is counted by group', () => {
  const table = takenTable([
    { group: 'sung', source: 'solo', taken: 'solo' },
    { group: 'mix', source: 'mix', taken: 'mix' },
    { group: 'mix', source: 'mix', taken: 'solo' },
  ]);
  expect(table.split('\n').map((line) => line.split(/ +/))).toEqual([
    ['recordings', 'is', 'taken', 'solo', 'taken', 'mix', 'right'],
    ['sung', 'solo', '1', '0', '1.000'],
    ['mix', 'mix', '1', '1', '0.500'],
    ['all', '2', '1', '0.667'],
  ]);
});

test('a table is aligned: the first column to the left, the others to the right', () => {
  expect(
    alignTable(
      ['a', 'bbb'],
      [
        ['xx', '1'],
        ['y', '22'],
      ],
    ),
  ).toBe('a   bbb\nxx    1\ny    22');
});
