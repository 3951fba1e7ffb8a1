/**
 * Tempo, metre and note values against tunes that everybody can look up. The tunes are in the public domain and
 * written from memory in the notes of common songbooks; time signature arithmetic is that of any primer of
 * notation (a 6/8 bar holds six eighths, felt as two dotted quarters).
 */
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { findBeats } from '../../src/rhythm/beats/beats.js';
import { placeNotes } from '../../src/rhythm/places/place.js';
import type { BeatsKnown } from '../../src/rhythm/types.js';

const UNKNOWN: BeatsKnown = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };

interface Tune {
  readonly title: string;
  readonly beatsPerBar: number;
  readonly beatUnit: 4 | 8;
  /** Beats before the first bar line. */
  readonly pickup: number;
  /** Beats a minute of the performance. */
  readonly bpm: number;
  /** Lengths in beats, bars parted by strokes. */
  readonly bars: string;
  /** Semitones of the notes above the tonic. */
  readonly steps: string;
}

const TUNES: readonly Tune[] = [
  {
    title: 'Twinkle, Twinkle, Little Star (French air, 1761), from memory',
    beatsPerBar: 4,
    beatUnit: 4,
    pickup: 0,
    bpm: 104,
    bars: '1 1 1 1 | 1 1 2 | 1 1 1 1 | 1 1 2 | 1 1 1 1 | 1 1 2 | 1 1 1 1 | 1 1 2 | 1 1 1 1 | 1 1 2 | 1 1 1 1 | 1 1 2',
    steps: '0 0 7 7 9 9 7 5 5 4 4 2 2 0 7 7 5 5 4 4 2 7 7 5 5 4 4 2 0 0 7 7 9 9 7 5 5 4 4 2 2 0',
  },
  {
    title: 'Ode to Joy (Beethoven, 1824; hymn tune of 1864), from memory',
    beatsPerBar: 4,
    beatUnit: 4,
    pickup: 0,
    bpm: 112,
    bars: '1 1 1 1 | 1 1 1 1 | 1 1 1 1 | 1.5 .5 2 | 1 1 1 1 | 1 1 1 1 | 1 1 1 1 | 1.5 .5 2 | 1 1 1 1 | 1 .5 .5 1 1 | 1 .5 .5 1 1 | 1 1 2 | 1 1 1 1 | 1 1 1 1 | 1 1 1 1 | 1.5 .5 2',
    steps:
      '4 4 5 7 7 5 4 2 0 0 2 4 4 2 2 4 4 5 7 7 5 4 2 0 0 2 4 2 0 0 2 2 4 0 2 4 5 4 0 2 4 5 4 2 0 2 -5 4 4 5 7 7 5 4 2 0 0 2 4 2 0 0',
  },
  {
    title: 'Auld Lang Syne (Scots Musical Museum, 1796), from memory',
    beatsPerBar: 4,
    beatUnit: 4,
    pickup: 1,
    bpm: 96,
    bars: '1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 3 1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 1.5 .5 .5 .5 1 | 3 1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 3 1 | 1.5 .5 1 1 | 1.5 .5 1 1 | 1.5 .5 .5 .5 1 | 3',
    steps:
      '-5 0 0 0 4 2 0 2 4 0 0 4 7 9 9 7 4 4 0 2 0 2 4 0 -3 -3 -3 -5 0 9 7 4 4 0 2 0 2 9 7 4 4 7 9 9 7 4 4 0 2 0 2 4 0 -3 -3 -3 -5 0',
  },
  {
    title: 'Amazing Grace (New Britain, 1829), from memory',
    beatsPerBar: 3,
    beatUnit: 4,
    pickup: 1,
    bpm: 90,
    bars: '1 | 2 .5 .5 | 2 1 | 2 1 | 2 1 | 2 .5 .5 | 2 1 | 3 | 2 1 | 2 .5 .5 | 2 1 | 2 1 | 2 1 | 2 .5 .5 | 2 1 | 3',
    steps: '-5 0 4 0 4 2 0 -3 -5 -5 0 4 0 4 2 7 7 4 7 4 0 4 2 0 -3 -5 -5 0 4 0 4 2 0',
  },
];

/** Written notes in beats from the first bar line. */
function written({ bars, pickup, steps }: Tune) {
  let at = -pickup;
  const pitches = steps.split(' ').map((step) => 60 + Number(step));
  return bars
    .split(/[\s|]+/)
    .map(Number)
    .map((length, i) => {
      const note = { start: at, length, midi: pitches[i]! };
      at += length;
      return note;
    });
}

describe('tunes of the songbooks', () => {
  test('the bars of each tune are full, as its time signature says', () => {
    for (const tune of TUNES) {
      const bars = tune.bars.split('|').map((bar) => bar.trim().split(/\s+/).map(Number));
      const sums = bars.map((bar) => bar.reduce((sum, length) => sum + length, 0));
      sums.slice(tune.pickup > 0 ? 1 : 0, -1).forEach((sum) => {
        expect(sum, tune.title).toBe(tune.beatsPerBar);
      });
    }
  });

  test.each(TUNES)(
    '$title: tempo, metre, downbeat and note values from a singer who is off by 20 ms',
    (tune) => {
      const random = seededRandom(17);
      const notes = written(tune).map(({ start, length, midi }) => {
        const onset = 2 + (start * 60) / tune.bpm + 0.02 * random.gauss();
        return { start: onset, end: onset + length * (60 / tune.bpm) * random.between(0.8, 0.95), midi };
      });
      const beats = findBeats(notes, UNKNOWN, null)!;
      const bpm = (60 * (beats.seconds.length - 1)) / (beats.seconds.at(-1)! - beats.seconds[0]!);
      expect(Math.abs(bpm / tune.bpm - 1)).toBeLessThan(0.01);
      expect(beats).toMatchObject({ beatsPerBar: tune.beatsPerBar, beatUnit: tune.beatUnit });
      const places = placeNotes(notes, beats).map(({ bar, beat, beats: length }) => ({
        start: (bar! - 1) * tune.beatsPerBar + beat! - 1,
        length,
      }));
      written(tune).forEach((note, i) => {
        expect(places[i]!.start).toBeCloseTo(note.start, 9);
        expect(places[i]!.length).toBe(note.length);
      });
    },
  );

  test('a bar of 6/8 lasts as long as one of 3/4 at the same speed of eighths, and has two felt beats', () => {
    const known = { ...UNKNOWN, firstDownbeatSeconds: 0 };
    const notes = [0, 1, 2, 3, 4, 5, 6].map((k) => ({ start: k * 0.25, end: k * 0.25 + 0.2, midi: 60 }));
    const six = findBeats(notes, { ...known, bpm: 240, beatsPerBar: 6, beatUnit: 8 }, null)!;
    const three = findBeats(notes, { ...known, bpm: 120, beatsPerBar: 3, beatUnit: 4 }, null)!;
    expect(six.seconds[6]).toBeCloseTo(1.5, 9);
    expect(three.seconds[3]).toBeCloseTo(1.5, 9);
    expect(placeNotes(notes, six).map(({ bar, beat, beats }) => [bar, beat, beats])).toEqual(
      [1, 2, 3, 4, 5, 6].map((beat) => [1, beat, 1]).concat([[2, 1, 1]]),
    );
    expect(placeNotes(notes, three).map(({ bar, beat, beats }) => [bar, beat, beats])).toEqual(
      [1, 1.5, 2, 2.5, 3, 3.5].map((beat) => [1, beat, 0.5]).concat([[2, 1, 0.5]]),
    );
  });
});
