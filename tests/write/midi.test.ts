import { readFileSync } from 'node:fs';
import tm from '@tonejs/midi';
import fc from 'fast-check';
import midiFile from 'midi-file';
import { describe, expect, test } from 'vitest';
import { melodyMidi } from '../../src/write/midi.js';
import { readMidi } from '../../src/write/read-midi.js';
import { bareMelody, golden, melodies, TWO_LINES } from './melodies.js';

const F_MAJOR = { fifths: -1, minor: false };
const NO_KEY = { title: 'Song', key: null };

const hexFile = (name: string) =>
  Buffer.from(readFileSync(golden(name), 'utf8').replace(/#.*$/gm, '').replace(/\s+/g, ''), 'hex');

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

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
        expect(Math.abs((read.bpm ?? 0) - bpm)).toBeLessThan(bpm ** 2 / 120e6 + 0.0006);
        expect(read.warnings).toEqual([]);
      }),
    );
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

  test('writes long melodies as one track, in time that grows with their length only', () => {
    const notes = Array.from({ length: 5001 }, (_, i) => ({
      start: i / 2,
      end: i / 2 + 0.4,
      midi: 40 + (i % 50),
    }));
    const began = performance.now();
    const bytes = melodyMidi(bareMelody(notes), { title: 'Long', key: F_MAJOR });
    // The library alone takes some 5 s here, and a fifth of a second is usual now.
    expect(performance.now() - began).toBeLessThan(3000);
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
