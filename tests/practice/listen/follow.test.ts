import { describe, expect, test } from 'vitest';
import { createFollower } from '../../../src/practice/listen/follow.js';
import type { LiveEvent } from '../../../src/practice/listen/live-notes.js';

const LINE = [60, 64, 67].map((midi, i) => ({ number: i + 1, midi }));

const note = (seconds: number, midi: number): LiveEvent => ({ event: 'note', seconds, midi, cents: 0 });
const held = (seconds: number, midi: number): LiveEvent => ({
  event: 'held',
  seconds,
  midi,
  cents: 0,
  heldSeconds: 0.15,
  how: 'steady',
});
const end = (seconds: number, midi: number): LiveEvent => ({
  event: 'end',
  seconds,
  midi,
  cents: 0,
  heldSeconds: 0.2,
});

test('higher and lower say which way to move and by how many keys', () => {
  const follower = createFollower(LINE, false);
  expect(follower.push(note(0, 57))).toMatchObject({ move: 'higher', keys: 3, movedOn: false });
  expect(follower.push(note(1, 62))).toMatchObject({ move: 'lower', keys: 2, movedOn: false });
  expect(follower.next!.number).toBe(1);
});

test('a right note that is held leads on to the next, and the last one ends the line', () => {
  const follower = createFollower(LINE, false);
  let seconds = 0;
  for (const { midi, number } of LINE) {
    expect(follower.push(note(seconds, midi))).toMatchObject({ move: 'right', movedOn: false });
    const advice = follower.push(held(seconds + 0.15, midi))!;
    expect(advice.movedOn).toBe(true);
    expect(advice.next?.number ?? null).toBe(number === 3 ? null : number + 1);
    seconds += 0.5;
  }
  expect(follower.next).toBeNull();
  expect(follower.push(note(3, 60))).toBeNull();
});

test('a short right note counts when it ends or the next one begins', () => {
  const follower = createFollower(LINE, false);
  follower.push(note(0, 60));
  expect(follower.push(end(0.12, 60))).toMatchObject({ movedOn: true, next: { number: 2 } });
  follower.push(note(0.2, 64));
  expect(follower.push(note(0.32, 67))).toMatchObject({ movedOn: true, move: 'right', next: { number: 3 } });
  expect(follower.push(held(0.5, 67))).toMatchObject({ next: null });
});

test('a key that is only slid through does not count', () => {
  const follower = createFollower(LINE, false);
  follower.push(note(0, 60));
  expect(follower.push(note(0.05, 62))).toMatchObject({ move: 'lower', keys: 2, movedOn: false });
  expect(follower.next!.number).toBe(1);
});

test('the same note twice in a line has to be played twice', () => {
  const follower = createFollower(
    [60, 60].map((midi, i) => ({ number: i + 1, midi })),
    false,
  );
  follower.push(note(0, 60));
  follower.push(held(0.15, 60));
  expect(follower.push(held(0.6, 60))).toBeNull();
  expect(follower.next!.number).toBe(2);
  follower.push(note(1, 60));
  expect(follower.push(held(1.2, 60))).toMatchObject({ next: null });
});

describe('in any octave', () => {
  test.each([
    [48, 'right', 0],
    [72, 'right', 0],
    [47, 'higher', 1],
    [73, 'lower', 1],
    [54, 'higher', 6],
    [55, 'higher', 5],
  ])('key %i waiting for C4: %s by %i', (midi, move, keys) => {
    expect(createFollower(LINE, true).push(note(0, midi))).toMatchObject({ move, keys });
  });
});
