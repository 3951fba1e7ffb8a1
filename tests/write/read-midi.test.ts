import fc from 'fast-check';
import midiFile, { type MidiEvent } from 'midi-file';
import { describe, expect, test } from 'vitest';
import { CantilenaError, InputError, NoMelodyError } from '../../src/errors.js';
import { melodyMidi } from '../../src/write/midi/midi.js';
import { readMidi } from '../../src/write/midi/read-midi.js';
import { TWO_LINES } from './melodies.js';

/** [tick, MIDI key, ticks long] of notes on a channel. */
type Played = readonly [number, number, number];

function track(name: string, played: readonly Played[], channel = 0): MidiEvent[] {
  const events: { tick: number; event: MidiEvent }[] = played.flatMap(([tick, noteNumber, ticks]) => [
    { tick, event: { deltaTime: 0, type: 'noteOn', channel, noteNumber, velocity: 64 } as MidiEvent },
    {
      tick: tick + ticks,
      event: { deltaTime: 0, type: 'noteOff', channel, noteNumber, velocity: 0 } as MidiEvent,
    },
  ]);
  events.sort((a, b) => a.tick - b.tick || a.event.type.localeCompare(b.event.type));
  const named: MidiEvent[] = name ? [{ deltaTime: 0, meta: true, type: 'trackName', text: name }] : [];
  return [
    ...named,
    ...events.map(({ tick, event }, i) => ({ ...event, deltaTime: tick - (events[i - 1]?.tick ?? 0) })),
    { deltaTime: 0, meta: true, type: 'endOfTrack' },
  ];
}

const tempo = (microsecondsPerBeat: number, deltaTime = 0): MidiEvent => ({
  deltaTime,
  meta: true,
  type: 'setTempo',
  microsecondsPerBeat,
});

const signature = (numerator: number, denominator: number, deltaTime = 0): MidiEvent => ({
  deltaTime,
  meta: true,
  type: 'timeSignature',
  numerator,
  denominator,
  metronome: 24,
  thirtyseconds: 8,
});

const file = (tracks: MidiEvent[][], ticksPerBeat = 480) =>
  Uint8Array.from(
    midiFile.writeMidi({ header: { format: 1, numTracks: tracks.length, ticksPerBeat }, tracks }),
  );

const heard = (tracks: MidiEvent[][]) =>
  readMidi(file(tracks), 'x.mid').notes.map((n) => [n.start, n.end, n.midi]);

const message = (bytes: Uint8Array): string => {
  try {
    readMidi(bytes, 'x.mid');
  } catch (error) {
    if (error instanceof CantilenaError) return error.message;
    throw error;
  }
  return 'no error';
};

describe('reading MIDI', () => {
  test('gives notes that are sure, at 120 beats a minute where no tempo is set', () => {
    const read = readMidi(file([track('', [[480, 60, 480]])]), 'x.mid');
    expect(read.notes).toEqual([{ start: 0.5, end: 1, midi: 60, pitch: 60, confidence: 1, other: null }]);
    expect(read).toMatchObject({
      bpm: null,
      beatsPerBar: null,
      firstDownbeat: null,
      lineStarts: null,
      seconds: 1,
    });
  });

  test('follows the tempo map, also before the first tempo', () => {
    // 480 ticks at 120, then 480 at 60, then 240 beats a minute.
    const map: MidiEvent[] = [tempo(1_000_000, 480), tempo(250_000, 480)];
    const notes = track('', [
      [0, 60, 480],
      [480, 62, 480],
      [960, 64, 960],
    ]);
    expect(heard([map, notes])).toEqual([
      [0, 0.5, 60],
      [0.5, 1.5, 62],
      [1.5, 2, 64],
    ]);
    expect(readMidi(file([map, notes]), 'x.mid').bpm).toBeNull();
  });

  test('counts film frames', () => {
    const bytes = file([track('', [[1000, 60, 500]])]);
    // Time division: minus 25 frames a second, 40 ticks a frame: 1000 ticks a second.
    bytes.set([0xe7, 40], 12);
    expect(readMidi(bytes, 'x.mid').notes[0]).toMatchObject({ start: 1, end: 1.5 });
  });

  test('takes the meter where it stays the same, in quarters or in eighths', () => {
    const meter = signature;
    const notes = track('', [[0, 60, 480]]);
    const read = (...events: MidiEvent[]) => readMidi(file([events, notes]), 'x.mid');
    expect(read(tempo(500_000), meter(6, 8, 480))).toMatchObject({
      beatsPerBar: 6,
      beatUnit: 8,
      firstDownbeat: 0.5,
      bpm: 240,
    });
    expect(read(tempo(500_000), meter(2, 2))).toMatchObject({ beatsPerBar: 4, beatUnit: 4, bpm: 120 });
    expect(read(tempo(30_000), meter(4, 4)).bpm).toBeNull();
    expect(read(meter(7, 8))).toMatchObject({ beatsPerBar: 7, beatUnit: 8, firstDownbeat: 0, beats: null });
    expect(read(meter(5, 16))).toMatchObject({ beatsPerBar: null, firstDownbeat: null });
    expect(read(meter(4, 4), meter(3, 4, 1920))).toMatchObject({ beatsPerBar: null, firstDownbeat: null });
  });

  test('takes the beats from the tempo map, from the bar of the first note to after the last', () => {
    // 480 ticks at 120, 960 at 60, then 240 beats a minute, in bars of two; the note stands in the second bar.
    const map: MidiEvent[] = [signature(2, 4), tempo(500_000), tempo(1_000_000, 480), tempo(250_000, 960)];
    const read = readMidi(file([map, track('', [[1200, 60, 800]])]), 'x.mid');
    expect(read).toMatchObject({ bpm: null, beatsPerBar: 2, beatUnit: 4, firstDownbeat: 0 });
    expect(read.beats).toEqual([0, 0.5, 1.5, 2.5, 2.75, 3]);
  });

  test('takes a short first bar for a pickup, and looks at markers of bars and beats on the beat only', () => {
    const notes = track('', [[0, 60, 2400]]);
    const mark = (text: string, deltaTime = 0): MidiEvent => ({
      deltaTime,
      meta: true,
      type: 'marker',
      text,
    });
    const read = (...events: MidiEvent[]) => {
      const { beatsPerBar, firstDownbeat, beats } = readMidi(file([[tempo(500_000), ...events], notes]), 'x');
      return [beatsPerBar, firstDownbeat, beats?.[0]];
    };
    expect(read(signature(1, 4), signature(4, 4, 480))).toEqual([4, 0.5, 0]);
    expect(read(signature(1, 4), signature(4, 4, 960))).toEqual([null, null, undefined]);
    expect(read(signature(4, 4), signature(1, 4, 1920))).toEqual([null, null, undefined]);
    expect(read(signature(4, 4), mark('bar 1', 1920))).toEqual([4, 2, 0]);
    expect(read(signature(4, 4), mark('bar 3', 1920))).toEqual([4, -2, 0]);
    expect(read(signature(4, 4), mark('bar 1', 1919))).toEqual([4, 0, 0]);
    expect(read(signature(4, 4), mark('bars', 1920), mark('verse'))).toEqual([4, 0, 0]);
    expect(read(signature(4, 4), mark('first beat', 960))).toEqual([4, 0, 1]);
    expect(read(signature(4, 4), mark('first beat', 959))).toEqual([4, 0, 0]);
  });

  test('takes no beats that would be damage: too many, too short', () => {
    const notes = track('', [[0, 60, 480]]);
    const late: MidiEvent = { deltaTime: 480 * 100_001, meta: true, type: 'endOfTrack' };
    expect(readMidi(file([[signature(4, 4), tempo(500_000), late], notes]), 'x').beats).toBeNull();
    expect(readMidi(file([[signature(4, 4), tempo(50_000)], notes]), 'x').beats).toBeNull();
  });

  test('takes the part that is named melody, voice or vocal, and says so', () => {
    const bass: Played[] = [0, 480, 960, 1440].map((tick) => [tick, 40, 480]);
    const tracks = [track('Bass', bass), track('Lead Vocals', [[0, 72, 960]]), track('Drums', bass, 9)];
    const read = readMidi(file(tracks), 'x.mid');
    expect(read.notes.map((n) => n.midi)).toEqual([72]);
    expect(read.warnings).toEqual([
      'x.mid has 2 parts with notes; the melody was taken from track 2 "Lead Vocals" (1 note).',
    ]);
  });

  test('else takes the part with most notes that sound alone', () => {
    const chords: Played[] = [0, 480, 960, 1440].flatMap((tick) =>
      [48, 52, 55].map((k): Played => [tick, k, 1920]),
    );
    const line: Played[] = [0, 480, 960].map((tick) => [tick, 67, 480]);
    expect(heard([track('', chords), track('', line)]).map(([, , midi]) => midi)).toEqual([67, 67, 67]);
  });

  test('parts the channels of a single track', () => {
    const both = [
      ...track(
        '',
        [
          [0, 72, 480],
          [480, 74, 480],
        ],
        0,
      ).slice(0, -1),
      ...track('', [[0, 40, 480]], 1),
    ];
    expect(heard([both]).map(([, , midi]) => midi)).toEqual([72, 74]);
  });

  test('keeps the highest of notes that sound together', () => {
    const played: Played[] = [
      [0, 60, 960],
      [0, 64, 960],
      [5, 67, 960],
      [480, 72, 960],
      [600, 50, 960],
    ];
    const read = readMidi(file([track('', played)]), 'x.mid');
    expect(read.notes.map((n) => [n.midi, n.end])).toEqual([
      [67, 0.5],
      [72, 1.5],
    ]);
    expect(read.warnings[0]).toContain('left out 3 notes that sounded under a higher one');
  });

  test('ends a note where the next begins in legato playing, up and down', () => {
    expect(
      heard([
        track('', [
          [0, 67, 500],
          [480, 65, 500],
          [960, 69, 480],
        ]),
      ]),
    ).toEqual([
      [0, 0.5, 67],
      [0.5, 1, 65],
      [1, 1.5, 69],
    ]);
  });

  test('ends a note that is never let go with the track, and a struck one where it is struck again', () => {
    const on = (deltaTime: number): MidiEvent => ({
      deltaTime,
      type: 'noteOn',
      channel: 0,
      noteNumber: 60,
      velocity: 9,
    });
    const end: MidiEvent = { deltaTime: 480, meta: true, type: 'endOfTrack' };
    expect(heard([[on(0), on(480), end]])).toEqual([
      [0, 0.5, 60],
      [0.5, 1, 60],
    ]);
  });

  test('skips chunks of other kinds, as the standard asks', () => {
    const bytes = Buffer.from(file([track('', [[0, 60, 480]])]));
    const alien = Buffer.from([0x58, 0x46, 0x49, 0x48, 0, 0, 0, 2, 1, 2]);
    const mixed = Buffer.concat([bytes.subarray(0, 14), alien, bytes.subarray(14)]);
    expect(readMidi(mixed, 'x.mid').notes).toHaveLength(1);
  });

  test('says in one sentence what is wrong with a file', () => {
    const good = file([track('', [[0, 60, 480]])]);
    const text = Buffer.from('This is not MIDI at all.');
    expect(message(text)).toBe('x.mid is not a MIDI file: it does not begin with a MIDI header.');
    expect(message(new Uint8Array(0))).toContain('is not a MIDI file');
    expect(message(good.slice(0, -3))).toContain('x.mid is cut off');
    expect(message(good.slice(0, 14))).toContain('x.mid is cut off');
    expect(message(Uint8Array.from(good).fill(2, 9, 10))).toContain('format 2');
    expect(message(Uint8Array.from(good).fill(0, 12, 14))).toContain('no length of a beat');
    expect(message(Uint8Array.from(good).fill(0xf4, 23, 24))).toContain('x.mid is a damaged MIDI file');
    // The key of the first note-on, and its velocity: data bytes of the standard are below 128.
    const on = good.indexOf(0x90);
    for (const at of [on + 1, on + 2]) {
      expect(message(Uint8Array.from(good).fill(0x80, at, at + 1))).toContain('a note that is none');
    }
    expect(() => readMidi(text, 'x')).toThrow(InputError);
    // Variable-length numbers of five bytes: as a time, and as the length of a marker, which would lead backwards.
    const head = [
      ...Buffer.from('MThd'),
      0,
      0,
      0,
      6,
      0,
      0,
      0,
      1,
      0x01,
      0xe0,
      ...Buffer.from('MTrk'),
      0,
      0,
      0,
    ];
    const bytes = (events: readonly number[]) => Uint8Array.from([...head, events.length, ...events]);
    const far = [0xff, 0xff, 0xff, 0xff, 0x7f];
    const note = [0x90, 60, 80, 0x60, 0x80, 60, 0];
    expect(message(bytes([...far, ...note]))).toContain('a time that is none');
    expect(message(bytes([0, 0xff, 6, ...far, 0, ...note]))).toContain('a length that is none');
    // 480 ticks are 16.8 s at the slowest tempo: the longest time of four bytes then lasts 108 days.
    const slow = [0, 0xff, 0x51, 3, 0xff, 0xff, 0xff];
    expect(message(bytes([...slow, ...far.slice(1), ...note]))).toContain('a note after 172800 s');
  });

  test('says that a file without notes, or with drums only, holds no melody', () => {
    expect(() => readMidi(file([track('x', [])]), 'x')).toThrow(NoMelodyError);
    expect(() => readMidi(file([track('x', [[0, 40, 480]], 9)]), 'x')).toThrow(NoMelodyError);
  });

  test('meets any damage with notes or with one sentence', () => {
    const good = melodyMidi(TWO_LINES, { title: 'Song', key: { fifths: 2, minor: true } });
    const damage = fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(damage, fc.nat(good.length), fc.boolean(), (changes, length, cut) => {
        const bytes = Uint8Array.from(good);
        for (const [at, value] of changes) bytes[at] = value;
        expect(message(cut ? bytes.slice(0, length) : bytes)).toMatch(/^[^\n]+$/);
      }),
      { numRuns: 2000 },
    );
  });
});
