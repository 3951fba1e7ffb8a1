import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planGuide } from '../../../src/practice/guide/plan.js';
import { selectNotes, takesOf } from '../../../src/practice/guide/select.js';
import { type GuideEvent, type GuideRequest, PLAIN_GUIDE } from '../../../src/practice/guide/types.js';
import { melodyOf, TWO_LINES } from './tunes.js';

const BEAT = melodyOf(TWO_LINES, { beatSeconds: 0.5 });
const LOOSE = melodyOf(TWO_LINES);
const planned = (request: Partial<GuideRequest>, melody = BEAT, notes = melody.notes) =>
  planGuide(melody, notes, { ...PLAIN_GUIDE, ...request });
const of = <K extends GuideEvent['kind']>(events: readonly GuideEvent[], kind: K) =>
  events.filter((event): event is Extract<GuideEvent, { kind: K }> => event.kind === kind);
const starts = (events: readonly { start: number }[]) => events.map(({ start }) => Number(start.toFixed(4)));
/** The first lineful of a plan's keys, or any other. */
const gaps = (times: readonly number[]) =>
  times.slice(1).map((time, i) => Number((time - times[i]!).toFixed(4)));

describe('a plan', () => {
  test('plays every note, in order, after a silence, and leaves room to ring out', () => {
    const { events, seconds } = planned({});
    const keys = of(events, 'key');
    expect(keys.map(({ midi }) => midi)).toEqual(TWO_LINES.map(({ midi }) => midi));
    expect(keys[0]!.start).toBeGreaterThanOrEqual(0.3);
    expect(gaps(starts(keys))).toEqual([0.5, 0.5, 0.5, 1.5, 0.5, 0.5, 0.5]);
    expect(seconds).toBeGreaterThan(keys.at(-1)!.end + 1);
  });

  test('at half the speed everything lasts twice as long', () => {
    const keys = of(planned({ speed: 0.5, countIn: true }).events, 'key');
    expect(gaps(starts(keys))).toEqual([1, 1, 1, 3, 1, 1, 1]);
    const clicks = of(planned({ speed: 0.5, countIn: true }).events, 'click');
    expect(gaps(starts(clicks))).toEqual([1, 1, 1]);
  });

  test('of any notes, speed and wishes is in order, and no key is struck before it was let go', () => {
    const tune = fc.array(
      fc.record({
        midi: fc.integer({ min: 40, max: 84 }),
        gap: fc.double({ min: 0.11, max: 1, noNaN: true }),
      }),
      { minLength: 1, maxLength: 15 },
    );
    const wishes = fc.record({
      speed: fc.double({ min: 0.25, max: 1, noNaN: true }),
      repeat: fc.integer({ min: 1, max: 3 }),
      countIn: fc.boolean(),
      drone: fc.boolean(),
      beside: fc.boolean(),
      callAndResponse: fc.boolean(),
    });
    fc.assert(
      fc.property(tune, wishes, fc.boolean(), (told, request, beat) => {
        let at = 1;
        const melody = melodyOf(
          told.map(({ midi, gap }, i) => {
            at += gap;
            return { midi, start: at - gap, length: gap, line: 1 + Math.floor((i / told.length) * 1.9) };
          }),
          beat ? { beatSeconds: 0.5 } : {},
        );
        const { events, seconds } = planGuide(melody, melody.notes, request);
        const times = events.map(({ start }) => start);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        expect(times[0]).toBeGreaterThanOrEqual(0.3);
        const keys = of(events, 'key');
        keys.forEach(({ midi, end, velocity }, i) => {
          const next = keys.slice(i + 1).find((key) => key.midi === midi);
          expect(end).toBeLessThan(next?.start ?? seconds - 1);
          expect(velocity).toBeGreaterThan(0.3);
          expect(velocity).toBeLessThan(0.8);
        });
        const played = told.length * request.repeat;
        expect(of(events, 'key').length).toBeGreaterThanOrEqual(played);
      }),
    );
  });
});

describe('a count-in', () => {
  test('is one bar that ends where a first note on a downbeat comes', () => {
    const { events, beatKnown } = planned({ countIn: true });
    const clicks = of(events, 'click');
    expect(clicks.map(({ first }) => first)).toEqual([true, false, false, false]);
    expect(gaps([...starts(clicks), of(events, 'key')[0]!.start])).toEqual([0.5, 0.5, 0.5, 0.5]);
    expect(beatKnown).toBe(true);
  });

  test('goes on to the beat of a pickup', () => {
    const pickup = melodyOf(
      [
        { midi: 60, start: 5.5, length: 0.5 },
        { midi: 65, start: 6, length: 1 },
      ],
      { beatSeconds: 0.5 },
    );
    const { events } = planned({ countIn: true }, pickup);
    const clicks = of(events, 'click');
    // 5.5 s is beat 4 of its bar of four: 1 2 3 4 1 2 3.
    expect(clicks.map(({ first }) => first)).toEqual([true, false, false, false, true, false, false]);
    expect(of(events, 'key')[0]!.start - clicks.at(-1)!.start).toBeCloseTo(0.5, 6);
  });

  test('clicks on the beat before a note between two beats', () => {
    const off = melodyOf([{ midi: 60, start: 4.25, length: 0.5 }], { beatSeconds: 0.5 });
    const { events } = planned({ countIn: true }, off);
    expect(of(events, 'click')).toHaveLength(5);
    expect(of(events, 'key')[0]!.start - of(events, 'click').at(-1)!.start).toBeCloseTo(0.25, 6);
  });

  test('has the beats of the meter', () => {
    const waltz = melodyOf([{ midi: 60, start: 6, length: 0.5 }], { beatSeconds: 0.5, beatsPerBar: 3 });
    expect(of(planned({ countIn: true }, waltz).events, 'click')).toHaveLength(3);
  });

  test('without a beat is four clicks at the notes’ own pace, and that is told', () => {
    const { events, beatKnown } = planned({ countIn: true }, LOOSE);
    expect(gaps(starts(of(events, 'click')))).toEqual([0.5, 0.5, 0.5]);
    expect(beatKnown).toBe(false);
    expect(planned({}, LOOSE).beatKnown).toBe(true);
  });
});

describe('more than once', () => {
  test('the beat goes on from one time to the next', () => {
    const { events } = planned({ repeat: 3 });
    const firsts = starts(of(events, 'key')).filter((_, i) => i % 8 === 0);
    for (const gap of gaps(firsts)) expect(gap % 2).toBeCloseTo(0, 6);
    expect(firsts).toHaveLength(3);
  });

  test('each time has its drone, on the first note, and its count-in', () => {
    const { events } = planned({ repeat: 2, drone: true, countIn: true });
    const tones = of(events, 'tone');
    expect(tones.map(({ midi }) => midi)).toEqual([60, 60]);
    expect(of(events, 'click')).toHaveLength(8);
    expect(tones[0]!.end - tones[0]!.start).toBeGreaterThanOrEqual(3);
    expect(tones[0]!.end).toBeLessThan(of(events, 'click')[0]!.start);
  });
});

describe('call and response', () => {
  test('leaves a silence as long as each line, in whole bars of the beat', () => {
    const { events, seconds } = planned({ callAndResponse: true });
    const keys = starts(of(events, 'key'));
    // Each line fills a bar of 2 s; a bar to answer in; the next line.
    expect(keys[4]! - keys[0]!).toBeCloseTo(4, 6);
    expect(seconds - keys[4]!).toBeGreaterThan(4);
  });

  test('without a beat the silence is as long as the line', () => {
    const keys = of(planned({ callAndResponse: true }, LOOSE).events, 'key');
    expect(keys[4]!.start - keys[3]!.end).toBeGreaterThanOrEqual(2);
  });
});

describe('the recording beside', () => {
  test('runs with the piano, from a little before the first note to a little after the last', () => {
    const { events } = planned({ beside: true, speed: 0.5 });
    const [part] = of(events, 'recording');
    const [key] = of(events, 'key');
    expect(part!.from).toBeLessThan(4);
    expect(part!.to).toBeGreaterThan(9);
    expect(part!.start).toBeGreaterThanOrEqual(0.3);
    expect(key!.start - part!.start).toBeCloseTo((4 - part!.from) / 0.5, 6);
  });

  test('does not sound the end of the line before nor the start of the next', () => {
    const { events } = planned({ beside: true, callAndResponse: true });
    const [first, second] = of(events, 'recording');
    expect(first!.to).toBeCloseTo(6.35, 6);
    expect(second!.from).toBeCloseTo(6.85, 6);
    const near = melodyOf(TWO_LINES.map((note, i) => (i < 4 ? note : { ...note, start: note.start - 0.9 })));
    const parts = of(planned({ beside: true, callAndResponse: true }, near).events, 'recording');
    expect(parts[0]!.to).toBeCloseTo(6.05, 6);
    expect(parts[1]!.from).toBeCloseTo(6, 6);
  });

  test('cannot begin before its own start', () => {
    const early = melodyOf([{ midi: 60, start: 0.05, length: 1 }]);
    expect(of(planned({ beside: true }, early).events, 'recording')[0]!.from).toBe(0);
  });
});

describe('what is chosen', () => {
  test('are lines by their numbers, or notes by the time they begin', () => {
    const all = { lines: null, from: null, to: null };
    expect(selectNotes(BEAT, all)).toHaveLength(8);
    expect(selectNotes(BEAT, { ...all, lines: { first: 2, last: 2 } }).map(({ midi }) => midi)).toEqual([
      67, 65, 64, 62,
    ]);
    expect(selectNotes(BEAT, { ...all, from: 4.5, to: 7.5 }).map(({ midi }) => midi)).toEqual([
      62, 64, 60, 67,
    ]);
    expect(takesOf(BEAT.notes, true).map((take) => take.length)).toEqual([4, 4]);
    expect(takesOf(BEAT.notes, false)).toEqual([BEAT.notes]);
  });

  test('must be there', () => {
    expect(() => selectNotes(BEAT, { lines: { first: 2, last: 3 }, from: null, to: null })).toThrow(
      /there is no line 3, since the melody has 2 lines/,
    );
    expect(() => selectNotes(BEAT, { lines: null, from: 20, to: null })).toThrow(
      /the notes begin from 4.0 s to 8.5 s/,
    );
  });
});
