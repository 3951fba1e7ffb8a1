/** Where the hand lies, and where it moves. */
import type { Line } from '../rhythm/types.js';
import { isBlack, keyboardPlace } from './keyboard.js';
import { spanTable } from './spans.js';
import type { Finger, HandPosition } from './types.js';

const spans = spanTable('medium');

interface Held {
  readonly midi: number;
  readonly finger: Finger;
}

/**
 * The positions that a fingering goes through, in order. A position lasts while every finger stays over its key: one
 * key a finger, higher keys under higher fingers, and any two of them within the comfortable span (Parncutt et al.
 * 1997, table 1). Where the notes before a move fit the next position too, the hand moves with the line that begins
 * there, if one does. `notes` and `fingers` have the same length; empty for none.
 */
export function handPositions(
  notes: readonly { readonly midi: number }[],
  fingers: readonly Finger[],
  lines: readonly Line[] = [],
): HandPosition[] {
  const played: Held[] = [];
  for (const [i, { midi }] of notes.entries()) played.push({ midi, finger: fingers[i]! });
  const firsts: number[] = [];
  let held: Held[] = [];
  for (const [i, note] of played.entries()) {
    if (i === 0 || !liesWithAll(held, note)) {
      firsts.push(i);
      held = [];
    }
    if (!holds(held, note.finger)) held.push(note);
  }
  const lineStarts = lines.map((line) => line.first - 1);
  const settled = firsts.map((first, k) => {
    const from = firsts[k - 1] ?? first;
    const next = played.slice(first, firsts[k + 1]);
    return (
      lineStarts.findLast(
        (start) => start > from && start < first && lieTogether(played.slice(start, first), next),
      ) ?? first
    );
  });
  return settled.map((first, k) => ({
    first: first + 1,
    thumb: thumbOf(played.slice(first, settled[k + 1])),
  }));
}

function lieTogether(some: readonly Held[], others: readonly Held[]): boolean {
  for (const note of some) if (!liesWithAll(others, note)) return false;
  return true;
}

function liesWithAll(held: readonly Held[], note: Held): boolean {
  for (const other of held) if (!liesWith(other, note)) return false;
  return true;
}

function holds(held: readonly Held[], finger: Finger): boolean {
  for (const other of held) if (other.finger === finger) return true;
  return false;
}

/** Whether the hand can hold both keys at once without a stretch. */
function liesWith(a: Held, b: Held): boolean {
  if (a.finger === b.finger) return a.midi === b.midi;
  const [low, high] = a.finger < b.finger ? [a, b] : [b, a];
  const span = spans(low.finger, high.finger);
  const distance = high.midi - low.midi;
  return distance > 0 && distance <= span.maxComf;
}

/** The key under the thumb: the one it plays, or the white key as many to the left of the lowest finger's as there are fingers between. */
function thumbOf(held: readonly Held[]): number {
  const lowest = held.reduce((a, b) => (b.finger < a.finger ? b : a));
  if (lowest.finger === 1) return lowest.midi;
  const place = keyboardPlace(lowest.midi) - 2 * (lowest.finger - 1);
  let midi = lowest.midi;
  while (isBlack(midi) || keyboardPlace(midi) > place) midi--;
  return Math.max(0, midi);
}
