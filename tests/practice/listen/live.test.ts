import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createLiveNotes, type LiveEvent } from '../../../src/practice/listen/live-notes.js';
import { createLivePitch } from '../../../src/practice/listen/live-pitch.js';
import { createLiveTuning } from '../../../src/practice/listen/live-tuning.js';
import { midiToHz } from '../../../src/units.js';
import { type Course, RATE, steady, tone, vibrato } from '../../pitch/signals.js';

const RANGE = { lowestHz: 55, highestHz: 1500 };

/** The parts one after the other; null is half a second of silence. */
function sound(parts: readonly (Course | null)[], seconds = 0.5): Float32Array {
  const pieces = parts.map((course) =>
    course === null ? new Float32Array(RATE * seconds) : tone(course, seconds),
  );
  const all = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** Events, each with the time at which the sound it needs had arrived. */
function hear(samples: Float32Array, blockSamples = 320): (LiveEvent & { arrived: number })[] {
  const pitch = createLivePitch(RATE, RANGE);
  const notes = createLiveNotes();
  const events: (LiveEvent & { arrived: number })[] = [];
  for (let i = 0; i < samples.length; i += blockSamples) {
    const arrived = Math.min(i + blockSamples, samples.length) / RATE;
    for (const frame of pitch.push(samples.subarray(i, i + blockSamples)))
      events.push(...notes.push(frame).map((event) => ({ ...event, arrived })));
  }
  events.push(...notes.finish().map((event) => ({ ...event, arrived: samples.length / RATE })));
  return events;
}

const named = (events: readonly LiveEvent[]) =>
  events.filter(({ event }) => event === 'note').map(({ midi }) => midi);
const key = (midi: number, cents = 0) => steady(midiToHz(midi + cents / 100));

describe('a tone', () => {
  test.each([40, 48, 57, 60, 69, 76, 84])('of key %i is named within 150 ms, held, and ended', (midi) => {
    const events = hear(sound([null, key(midi), null]));
    expect(named(events)).toEqual([midi]);
    expect(events[0]!.arrived).toBeGreaterThan(0.5);
    expect(events[0]!.arrived).toBeLessThanOrEqual(0.65);
    const held = events.find(({ event }) => event === 'held');
    expect(held).toMatchObject({ midi, how: 'steady' });
    expect(events.at(-1)).toMatchObject({ event: 'end', midi });
    expect((events.at(-1) as { heldSeconds: number }).heldSeconds).toBeCloseTo(0.5, 1);
  });

  test.each([-45, -20, 0, 20, 45])('%i cents off is said so', (cents) => {
    const events = hear(sound([null, key(60, cents)]));
    expect(named(events)).toEqual([60]);
    const held = events.find(({ event }) => event === 'held')!;
    expect(Math.abs(held.cents - cents)).toBeLessThanOrEqual(3);
  });

  test('that swings is called wavering', () => {
    const events = hear(sound([null, vibrato(440, 0.03, 5.5)], 1));
    expect(named(events)).toEqual([69]);
    expect(events.some((event) => event.event === 'held' && event.how === 'wavering')).toBe(true);
  });
});

test('notes that follow each other without a rest are told apart', () => {
  expect(named(hear(sound([key(60), key(62), key(64), key(60), key(72)], 0.3)))).toEqual([
    60, 62, 64, 60, 72,
  ]);
});

test('a key struck again is a note again', () => {
  const struck = sound([key(60)], 0.4);
  for (let i = 0; i < struck.length; i++) struck[i]! *= Math.exp(-i / (0.12 * RATE));
  const twice = new Float32Array(2 * struck.length);
  twice.set(struck);
  twice.set(struck, struck.length);
  expect(named(hear(twice))).toEqual([60, 60]);
});

test('silence and noise have no notes', () => {
  expect(hear(new Float32Array(RATE))).toEqual([]);
  let seed = 1;
  const noise = Float32Array.from({ length: 2 * RATE }, () => {
    seed = (seed * 16_807) % 2_147_483_647;
    return (0.2 * seed) / 2_147_483_647 - 0.1;
  });
  expect(named(hear(noise))).toEqual([]);
});

test('the size of the pieces in which the sound arrives changes nothing', () => {
  const samples = sound([null, key(57), key(60), null, key(64)], 0.4);
  const plain = hear(samples).map(({ arrived: _, ...event }) => event);
  fc.assert(
    fc.property(fc.integer({ min: 100, max: 9000 }), (block) => {
      expect(hear(samples, block).map(({ arrived: _, ...event }) => event)).toEqual(plain);
    }),
    { numRuns: 5 },
  );
});

describe('tuning', () => {
  test('a piano in tune stays so, and a sharp voice is learnt', () => {
    const piano = createLiveTuning();
    for (let i = 0; i < 20; i++) piano.add(60, 0.5);
    expect(Math.abs(piano.cents())).toBeLessThan(0.01);
    const voice = createLiveTuning();
    for (let i = 0; i < 40; i++) voice.add(60.35, 0.5);
    expect(voice.cents()).toBeGreaterThan(30);
    expect(voice.cents()).toBeLessThan(35);
  });

  test('45 cents flat and 45 sharp are neighbours, not the mean of them', () => {
    const tuning = createLiveTuning();
    for (let i = 0; i < 60; i++) tuning.add(i % 2 === 0 ? 60.45 : 61.55, 0.5);
    expect(Math.abs(tuning.cents())).toBeGreaterThan(40);
  });

  test('a voice sharp throughout keeps its keys', () => {
    const tune = [60, 62, 64, 65, 64, 62, 60, 62, 64, 60];
    const events = hear(
      sound(
        tune.map((midi) => key(midi, 30)),
        0.4,
      ),
    );
    expect(named(events)).toEqual(tune);
  });
});
