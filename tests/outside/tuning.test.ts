/**
 * Recordings at standard pitches of the world: ISO 16:1975 has A4 = 440 Hz; 442 Hz is common among orchestras
 * and 415 Hz among players of baroque music (common practice). The cents are 1200·log2(f / 440), worked out by
 * hand beside each.
 */
import { expect, test } from 'vitest';
import { notesOf } from '../../src/notes/notes-of.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { recordingOf, sing } from '../pitch/signals.js';

const KEYS = [57, 61, 64, 66, 69];
const cents = (hz: number) => 1200 * Math.log2(hz / 440);

test.each([
  // ISO 16:1975.
  [440, 0, 0],
  // 442 / 440 = 1.004545: 7.85 cents.
  [442, 7.85, 0],
  // 443: 11.76 cents; 435 (the French diapason normal of 1859): −19.79 cents.
  [443, 11.76, 0],
  [435, -19.79, 0],
  // 415 / 440 = 0.943182: −101.27 cents, which is one key lower and −1.27 cents.
  [415, -1.27, -1],
])('at A4 = %f Hz the tuning is %f cents, the keys moved by %i', async (a4, tuning, keys) => {
  const off = cents(a4) / 100;
  const song = KEYS.map((midi, i) => ({ start: 0.4 + 0.6 * i, end: 0.85 + 0.6 * i, midi: midi + off }));
  const track = await trackSolo(recordingOf(sing(song, 3.6)), { lowestHz: 55, highestHz: 1500 });
  const heard = notesOf(track, 3.6);
  expect(heard.notes.map((n) => n.midi)).toEqual(KEYS.map((k) => k + keys));
  expect(Math.abs(heard.tuningCents - tuning)).toBeLessThan(1);
  // The pitch is told as sung, before the tuning is taken out.
  heard.notes.forEach((n, i) => {
    expect(Math.abs(n.pitch - KEYS[i]! - off)).toBeLessThan(0.05);
  });
});
