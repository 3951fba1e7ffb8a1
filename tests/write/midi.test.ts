import { readFileSync } from 'node:fs';
import tm from '@tonejs/midi';
import fc from 'fast-check';
import midiFile, { type MidiEvent } from 'midi-file';
import { describe, expect, test } from 'vitest';
import type { Melody } from '../../src/melody.js';
import { melodyMidi } from '../../src/write/midi/midi.js';
import { readMidi } from '../../src/write/midi/read-midi.js';
import { bareMelody, golden, melodies, TWO_LINES, timedMelodies } from './melodies.js';

const F_MAJOR = { fifths: -1, minor: false };
const NO_KEY = { title: 'Song', key: null };

const hexFile = (name: string) =>
  Buffer.from(readFileSync(golden(name), 'utf8').replace(/#.*$/gm, '').replace(/\s+/g, ''), 'hex');

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

const FOUR_FOUR = { beatsPerBar: 4, beatUnit: 4, firstDownbeat: 0 } as const;

/** The events of the first track. */
const events = (melody: Melody) => {
  let tick = 0;
  return midiFile.parseMidi(melodyMidi(melody, NO_KEY)).tracks[0]!.map((event) => {
    tick += event.deltaTime;
    const { deltaTime, meta, ...rest } = event as MidiEvent & { meta: boolean };
    return { tick, ...rest } as {
      tick: number;
      type: string;
      text?: string;
      numerator?: number;
      denominator?: number;
    };
  });
};

describe('MIDI', () => {
  test('is written byte for byte as worked out by hand', () => {
    const bytes = melodyMidi(TWO_LINES, { title: 'Hö', key: F_MAJOR });
    expect(hex(bytes)).toBe(hex(hexFile('two-lines.mid.hex')));
  });

  test('the trap: the library alone writes E flat major as 11 sharps and drops text outside Latin-1', () => {
    const midi = new tm.Midi();
    midi.name = '♪';
    midi.header.keySignatures.push({ ticks: 0, key: 'Eb', scale: 'major' });
    const library = hex(midi.toArray());
    expect(library).toContain('ff59020b00');
    expect(library).toContain('ff03016a');
    const ours = hex(melodyMidi(bareMelody([{}]), { title: '♪', key: { fifths: -3, minor: false } }));
    expect(ours).toContain('ff5902fd00');
    expect(ours).toContain(`ff0303${Buffer.from('♪', 'utf8').toString('hex')}`);
  });

  test('keeps seconds true to 1 ms and keys exact, at any tempo, after an hour too', () => {
    fc.assert(
      fc.property(melodies, fc.constantFrom(0, 3600), (melody, later) => {
        const moved = {
          ...melody,
          notes: melody.notes.map((n) => ({ ...n, start: n.start + later, end: n.end + later })),
          lines: melody.lines.map((l) => ({ ...l, start: l.start + later, end: l.end + later })),
        };
        const read = readMidi(melodyMidi(moved, NO_KEY), 'x.mid');
        expect(read.notes.map((n) => n.midi)).toEqual(melody.notes.map((n) => n.midi));
        read.notes.forEach((n, i) => {
          expect(Math.abs(n.start - moved.notes[i]!.start)).toBeLessThan(0.001);
          expect(Math.abs(n.end - moved.notes[i]!.end)).toBeLessThan(0.001);
        });
        expect(read.lineStarts).toEqual(melody.lines.map((line) => line.first));
        expect(read.beatsPerBar).toBe(melody.meter.beatsPerBar);
        // Half a microsecond a quarter note, which is all the format can hold, and the reader's third decimal.
        const bpm = melody.tempo.bpm ?? 0;
        // Where beats are written, the first and last may be half a millisecond off.
        const beatSlack = melody.meter.beatsPerBar === null ? 0 : 0.001;
        expect(Math.abs((read.bpm ?? 0) - bpm)).toBeLessThan((bpm ** 2 / 60) * (beatSlack + 0.5e-6) + 0.0006);
        expect(read.warnings).toEqual([]);
      }),
    );
  });

  test('keeps every beat from second 0 on to half a millisecond, its bars, and the notes to 1 ms', () => {
    fc.assert(
      fc.property(timedMelodies, (melody) => {
        const { tempo, meter, notes } = melody;
        const read = readMidi(melodyMidi(melody, NO_KEY), 'x.mid');
        const skipped = tempo.beats.findIndex((time) => time > -0.0005);
        const beats = tempo.beats.slice(skipped);
        expect(read.beats).toHaveLength(beats.length);
        read.beats!.forEach((time, i) => {
          expect(Math.abs(time - beats[i]!)).toBeLessThan(0.000501);
        });
        expect([read.beatsPerBar, read.beatUnit]).toEqual([meter.beatsPerBar, meter.beatUnit]);
        // A downbeat before second 0 is counted back at the pace of the first two beats.
        const span = read.beats![1]! - read.beats![0]!;
        const downbeat = tempo.beats.indexOf(meter.firstDownbeat!) - skipped;
        const expected = downbeat < 0 ? read.beats![0]! + downbeat * span : read.beats![downbeat]!;
        expect(read.firstDownbeat).toBeCloseTo(expected, 9);
        read.notes.forEach((note, i) => {
          expect(note.midi).toBe(notes[i]!.midi);
          expect(Math.abs(note.start - notes[i]!.start)).toBeLessThan(0.001);
          expect(Math.abs(note.end - notes[i]!.end)).toBeLessThan(0.001);
        });
        expect(read.lineStarts).toEqual(melody.lines.map((line) => line.first));
      }),
      { numRuns: 300 },
    );
  });

  test('says an even tempo once, and each change of tempo once', () => {
    const on = (beats: number[]) =>
      events({ ...bareMelody([{ end: 2 }]), tempo: { bpm: 120, beats }, meter: FOUR_FOUR }).filter(
        ({ type }) => type === 'setTempo',
      );
    const even = Array.from({ length: 401 }, (_, i) => i / 2);
    expect(on(even)).toEqual([{ tick: 0, type: 'setTempo', microsecondsPerBeat: 500_000 }]);
    const wobbling = even.map((time, i) => time + 0.0004 * (-1) ** i);
    expect(on(wobbling)).toHaveLength(1);
    // From beat 4 on half a beat a second.
    expect(on([0, 0.5, 1, 1.5, 2, 4, 6, 8, 10])).toEqual([
      { tick: 0, type: 'setTempo', microsecondsPerBeat: 500_000 },
      { tick: 4 * 1920, type: 'setTempo', microsecondsPerBeat: 2_000_000 },
    ]);
  });

  test.each([
    // First beat in seconds (half a second each, 4/4), place of it in its bar; then signatures and marked bar.
    ['at 0', 0, 0, ['0 4/4'], null],
    ['a bar and a half later', 3, 0, ['0 2/4', '1920 4/4'], '5760 bar 1'],
    ['a third of a beat later', 1 / 6, 0, ['0 1/16', '240 4/4'], null],
    ['with a pickup of one beat', 0, 3, ['0 1/4', '960 4/4'], null],
    ['with a pickup after a lead-in', 0.4, 2, ['0 1/4', '960 2/4', '2880 4/4'], null],
    ['with a pickup as long as the lead-in', 0.4, 3, ['0 1/4', '960 1/4', '1920 4/4'], null],
  ])('begins bars where they begin: first beat %s', (_what, start, place, signatures, bar) => {
    const beats = Array.from({ length: 12 }, (_, i) => start + i / 2);
    const written = events({
      ...bareMelody([{ start, end: start + 1 }]),
      tempo: {
        bpm: 120,
        beats: [...Array.from({ length: place }, (_, i) => start + (i - place) / 2), ...beats],
      },
      meter: { ...FOUR_FOUR, firstDownbeat: beats[(4 - place) % 4]! },
    });
    expect(
      written.flatMap(({ type, tick, numerator, denominator }) =>
        type === 'timeSignature' ? [`${tick} ${numerator}/${denominator}`] : [],
      ),
    ).toEqual(signatures);
    const marked = written.find(({ text }) => text?.startsWith('bar'));
    expect(marked ? `${marked.tick} ${marked.text}` : null).toBe(bar);
  });

  test('counts bars on from one that begins before second 0', () => {
    const melody = {
      ...bareMelody([{ start: 0.1, end: 1 }]),
      tempo: { bpm: 120, beats: Array.from({ length: 13 }, (_, i) => i / 2 - 0.75) },
      meter: { ...FOUR_FOUR, firstDownbeat: -0.75 },
    };
    expect(
      events(melody).flatMap(({ tick, text }) => (text?.startsWith('bar') ? [`${tick} ${text}`] : [])),
    ).toEqual([
      // Half a beat of lead-in, as the third beat is at 0.25 s, then two beats of bar 1.
      '2400 bar 2',
    ]);
    expect(readMidi(melodyMidi(melody, NO_KEY), 'x').firstDownbeat).toBeCloseTo(-0.75, 6);
  });

  test('writes no beat that is too long for the format, but true seconds', () => {
    const melody = {
      ...bareMelody([{ start: 1, end: 2 }]),
      tempo: { bpm: 3.5, beats: [0, 17, 34] },
      meter: FOUR_FOUR,
    };
    const read = readMidi(melodyMidi(melody, NO_KEY), 'x');
    expect(read).toMatchObject({ beats: null, beatsPerBar: null });
    expect(Math.abs(read.notes[0]!.end - 2)).toBeLessThan(0.001);
  });

  test('sounds one note at a time: a note is off before the next is on', () => {
    fc.assert(
      fc.property(melodies, (melody) => {
        let sounding = 0;
        for (const event of midiFile.parseMidi(melodyMidi(melody, NO_KEY)).tracks[1]!) {
          if (event.type === 'noteOn') sounding++;
          if (event.type === 'noteOff') sounding--;
          expect([0, 1]).toContain(sounding);
        }
        expect(sounding).toBe(0);
      }),
    );
  });

  test('writes long melodies, whose notes are put together from pieces, as one track', () => {
    const notes = Array.from({ length: 5001 }, (_, i) => ({
      start: i / 2,
      end: i / 2 + 0.4,
      midi: 40 + (i % 50),
    }));
    const bytes = melodyMidi(bareMelody(notes), { title: 'Long', key: F_MAJOR });
    const read = readMidi(bytes, 'x.mid');
    expect(read.notes.map((n) => n.midi)).toEqual(notes.map((n) => n.midi));
    expect(Math.abs(read.notes.at(-1)!.end - notes.at(-1)!.end)).toBeLessThan(0.001);
    expect(midiFile.parseMidi(bytes).tracks).toHaveLength(2);
  });

  test('writes 120 while the tempo is unknown, and reads that as unknown', () => {
    const bytes = melodyMidi(bareMelody([{ start: 1, end: 2 }]), NO_KEY);
    expect(hex(bytes)).toContain('ff510307a120');
    expect(readMidi(bytes, 'x.mid').bpm).toBeNull();
  });

  test('replaces line breaks in a title', () => {
    const bytes = melodyMidi(bareMelody([{}]), { title: 'two\r\nlines', key: null });
    expect(Buffer.from(bytes).toString('latin1')).toContain('two lines');
  });
});
