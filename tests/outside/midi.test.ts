/**
 * The MIDI files against the world outside: bytes as "Standard MIDI Files 1.0" (MIDI Manufacturers
 * Association, RP-001) defines them, and two independent programs that read them where they are installed.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { melodyMidi } from '../../src/write/midi/midi.js';
import { readMidi } from '../../src/write/midi/read-midi.js';
import { bareMelody, TWO_LINES } from '../write/melodies.js';

/** 120 beats a minute, 960 ticks a quarter note. */
const TICKS_PER_SECOND = 1920;

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

/** RP-001, "Some numbers represented as variable-length quantities": the table, and both sides of each width. */
const QUANTITIES: readonly (readonly [number, string])[] = [
  [0x00, '00'],
  [0x40, '40'],
  [0x7f, '7f'],
  [0x80, '8100'],
  [0x2000, 'c000'],
  [0x3fff, 'ff7f'],
  [0x4000, '818000'],
  [0x100000, 'c08000'],
  [0x1fffff, 'ffff7f'],
  [0x200000, '81808000'],
  [0x8000000, 'c0808000'],
  [0xfffffff, 'ffffff7f'],
];

/** RP-001, "Key Signature": FF 59 02 sf mi; sf −7 = 7 flats … 7 = 7 sharps in two's complement, mi 1 = minor. */
const SHARPS_OR_FLATS: readonly (readonly [number, string, string])[] = [
  [-7, 'f9', 'Cb major, Ab minor'],
  [-6, 'fa', 'Gb major, Eb minor'],
  [-5, 'fb', 'Db major, Bb minor'],
  [-4, 'fc', 'Ab major, F minor'],
  [-3, 'fd', 'Eb major, C minor'],
  [-2, 'fe', 'Bb major, G minor'],
  [-1, 'ff', 'F major, D minor'],
  [0, '00', 'C major, A minor'],
  [1, '01', 'G major, E minor'],
  [2, '02', 'D major, B minor'],
  [3, '03', 'A major, F# minor'],
  [4, '04', 'E major, C# minor'],
  [5, '05', 'B major, G# minor'],
  [6, '06', 'F# major, D# minor'],
  [7, '07', 'C# major, A# minor'],
];

describe('Standard MIDI Files 1.0', () => {
  test.each(QUANTITIES)('a delta time of %i ticks is written and read as in the table', (ticks, bytes) => {
    const start = ticks / TICKS_PER_SECOND;
    const file = melodyMidi(bareMelody([{ start, end: start + 1 }]), { title: '', key: null });
    // Program change, then the note-on of key 60 at velocity 80.
    expect(hex(file)).toContain(`00c000${bytes}903c50`);
    expect(readMidi(file, 'x').notes[0]!.start).toBeCloseTo(start, 6);
  });

  test.each(SHARPS_OR_FLATS)('a key signature of %i is %s: %s', (fifths, sf) => {
    const bytes = (minor: boolean) =>
      hex(melodyMidi(bareMelody([{}]), { title: '', key: { fifths, minor } }));
    expect(bytes(false)).toContain(`00ff5902${sf}00`);
    expect(bytes(true)).toContain(`00ff5902${sf}01`);
  });

  test('the chunks follow each other without gaps to the end of the file, each track closed', () => {
    const bytes = Buffer.from(melodyMidi(TWO_LINES, { title: 'Song', key: null }));
    expect(hex(bytes.subarray(0, 14))).toBe('4d546864000000060001000203c0');
    let at = 14;
    let tracks = 0;
    while (at < bytes.length) {
      expect(bytes.toString('latin1', at, at + 4)).toBe('MTrk');
      at += 8 + bytes.readUInt32BE(at + 4);
      expect(hex(bytes.subarray(at - 3, at))).toBe('ff2f00');
      tracks++;
    }
    expect([at, tracks]).toEqual([bytes.length, 2]);
  });

  test.each([
    [120, '07a120'],
    [60, '0f4240'],
    [93.7, '09c556'],
    [3.6, 'fe502b'],
  ])('a tempo of %d is %s microseconds a quarter note', (bpm, micros) => {
    // 60e6 / 93.7 = 640341.5 → 640342 = 0x09C556; 60e6 / 3.6 = 16666666.7 → 16666667 = 0xFE502B.
    const file = melodyMidi(bareMelody([{}], { tempo: { bpm, beats: [] } }), { title: '', key: null });
    expect(hex(file)).toContain(`ff5103${micros}`);
  });
});

/** A beat a second from 0 on, 32 of them. */
const SECONDS = Array.from({ length: 32 }, (_, i) => i);

describe('time signatures and markers of Standard MIDI Files 1.0', () => {
  test.each([
    // RP-001, "Time Signature": FF 58 04 nn dd cc bb, dd a power of two, cc MIDI clocks a click (24 a quarter), bb
    // 32nds a quarter. Its own example is 6/8 with a click every three eighths: FF 58 04 06 03 24 08.
    [6, 8, '0603', '24'],
    [4, 4, '0402', '18'],
    [3, 4, '0302', '18'],
    [7, 8, '0703', '0c'],
  ] as const)('%i/%i is FF 58 04 %s %s 08', (beatsPerBar, beatUnit, signature, clocks) => {
    const melody = bareMelody([{}], {
      tempo: { bpm: 60, beats: SECONDS },
      meter: { beatsPerBar, beatUnit, firstDownbeat: 0 },
    });
    expect(hex(melodyMidi(melody, { title: '', key: null }))).toContain(`00ff5804${signature}${clocks}08`);
  });

  test('a marker is FF 06, its length, its text', () => {
    const marker = (text: string) =>
      `ff06${hex(Uint8Array.of(text.length))}${hex(Buffer.from(text, 'latin1'))}`;
    const file = hex(melodyMidi(TWO_LINES, { title: '', key: null }));
    for (const text of ['section A', 'line 1', 'line 2 (like 1)']) expect(file).toContain(marker(text));
  });

  test('a beat of 1 s, then beats of 0.5 s are a tempo map of 1000000 and 500000', () => {
    const beats = [0, 1, 2, 3, 4, 4.5, 5, 5.5, 6];
    const file = melodyMidi(
      bareMelody([{}], {
        tempo: { bpm: 60, beats },
        meter: { beatsPerBar: 4, beatUnit: 4, firstDownbeat: 0 },
      }),
      { title: '', key: null },
    );
    // The change comes after four quarters of 960 ticks: 3840 = 30·128 → 9e 00.
    expect(hex(file)).toContain('00ff51030f42409e00ff510307a120');
  });
});

const folder = mkdtempSync(join(tmpdir(), 'midi-'));
afterAll(() => rmSync(folder, { recursive: true }));
const path = join(folder, 'song.mid');
const varying = join(folder, 'varying.mid');
writeFileSync(path, melodyMidi(TWO_LINES, { title: 'Título', key: { fifths: -1, minor: false } }));

writeFileSync(
  varying,
  melodyMidi(
    bareMelody(
      SECONDS.slice(1, 9).map((start) => ({ start, end: start + 0.5 })),
      {
        // From 0.25 s on beats of 0.5 s, each 10 ms longer than the one before, in 6/8.
        tempo: {
          bpm: 110,
          beats: Array.from({ length: 15 }, (_, i) => 0.25 + 0.5 * i + 0.005 * i * (i - 1)),
        },
        meter: { beatsPerBar: 6, beatUnit: 8, firstDownbeat: 0.25 },
      },
    ),
    { title: 'x', key: null },
  ),
);

const installed = (program: string) => spawnSync(program, ['--version']).error === undefined;

describe.skipIf(!installed('midicsv'))('midicsv (skipped where it is not installed)', () => {
  test('reads the file without complaint, with our tempo, meter, key, markers and notes', () => {
    const run = spawnSync('midicsv', [path], { encoding: 'latin1' });
    expect([run.status, run.stderr]).toEqual([0, '']);
    const rows = run.stdout.split(/\r?\n/).map((row) => row.split(', '));
    const of = (kind: string) =>
      rows.filter((row) => row[2] === kind).map((row) => [row[1], ...row.slice(3)].join(' '));
    expect(of('Header')).toEqual(['0 1 2 960']);
    expect(of('Tempo')).toEqual(['0 500000']);
    expect(of('Time_signature')).toEqual(['0 1 2 24 8', '960 4 2 24 8']);
    expect(of('Key_signature')).toEqual(['0 -1 "major"']);
    expect(of('Marker_t')).toEqual([
      '960 "first beat"',
      '960 "section A"',
      '960 "line 1"',
      '5761 "line 2 (like 1)"',
    ]);
    expect(of('Note_on_c')).toEqual(['960 0 65 80', '1920 0 69 80', '5761 0 70 80', '7199 0 72 80']);
    expect(of('Note_off_c')).toEqual(['1920 0 65 0', '2880 0 69 0', '7199 0 70 0', '8640 0 72 0']);
  });

  test('a varying tempo keeps the seconds of notes and beats, by the tempo events alone', () => {
    const run = spawnSync('midicsv', [varying], { encoding: 'latin1' });
    const rows = run.stdout.split(/\r?\n/).map((row) => row.split(', '));
    const [, , , , , division] = rows.find((row) => row[2] === 'Header')!;
    const tempos = rows
      .filter((row) => row[2] === 'Tempo')
      .map((row) => [Number(row[1]), Number(row[3])] as const);
    expect(tempos.length).toBeGreaterThan(10);
    const secondsAt = (tick: number) =>
      tempos.reduce((sum, [from, micros], i) => {
        const to = Math.min(tempos[i + 1]?.[0] ?? tick, tick);
        return sum + (Math.max(to - from, 0) * micros) / Number(division) / 1e6;
      }, 0);
    const starts = rows.filter((row) => row[2] === 'Note_on_c').map((row) => secondsAt(Number(row[1])));
    starts.forEach((start, i) => {
      expect(Math.abs(start - (i + 1))).toBeLessThan(0.001);
    });
    // Every beat is half a quarter after the one before; the first stands behind half an eighth of lead-in.
    const eighth = Number(division) / 2;
    for (const beat of [0, 1, 5, 10, 14]) {
      const told = 0.25 + 0.5 * beat + 0.005 * beat * (beat - 1);
      expect(Math.abs(secondsAt((0.5 + beat) * eighth) - told)).toBeLessThan(0.0006);
    }
  });
});

const FONTS = ['default-GM.sf2', 'TimGM6mb.sf2', 'FluidR3_GM.sf2'].map(
  (name) => `/usr/share/sounds/sf2/${name}`,
);
const font = FONTS.find((name) => existsSync(name));

describe.skipIf(!installed('fluidsynth') || font === undefined)(
  'fluidsynth (skipped where it or a sound font is not installed)',
  () => {
    test('plays the file: silence before the first note, sound from there, and again on each note', () => {
      const wav = join(folder, 'song.wav');
      const run = spawnSync('fluidsynth', ['-ni', '-q', '-r', '44100', '-T', 'wav', '-F', wav, font!, path]);
      expect(run.status).toBe(0);
      const samples = readFileSync(wav).subarray(44);
      const loudest = (from: number, to: number) => {
        let peak = 0;
        for (let at = Math.round(from * 44100); at < to * 44100; at++) {
          peak = Math.max(peak, Math.abs(samples.readInt16LE(at * 4)));
        }
        return peak;
      };
      expect(loudest(0, 0.48)).toBeLessThan(10);
      expect(loudest(0.5, 0.6)).toBeGreaterThan(100);
      // Line 2 begins at 3.0 s, after a rest in which the strings have been damped.
      expect(loudest(3, 3.1)).toBeGreaterThan(10 * loudest(2.8, 2.98));
    });
  },
);
