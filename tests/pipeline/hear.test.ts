import { describe, expect, test } from 'vitest';
import { pack } from '../../src/dsp/packed.js';
import { NoMelodyError, UsageError } from '../../src/errors.js';
import { notesOf } from '../../src/notes/notes-of.js';
import { hear } from '../../src/pipeline/hear.js';
import { defaultHearOptions } from '../../src/pipeline/options.js';
import { band, over } from '../pitch/band.js';
import { RATE, recordingOf, sing } from '../pitch/signals.js';

const OPTIONS = defaultHearOptions('solo');
const TUNE = [60, 64, 67, 72].map((midi, i) => ({ start: 0.3 + 0.6 * i, end: 0.75 + 0.6 * i, midi }));

describe('hear', () => {
  test('gives the track and its notes', async () => {
    const { track, heard } = await hear(recordingOf(sing(TUNE, 3)), OPTIONS);
    expect(heard.notes.map((n) => n.midi)).toEqual([60, 64, 67, 72]);
    expect(heard.seconds).toBe(3);
    expect(heard).toEqual(notesOf(track, 3));
  });

  test('looks for nothing outside the range asked for', async () => {
    const { track, heard } = await hear(recordingOf(sing(TUNE, 3)), { ...OPTIONS, lowestMidi: 63 });
    expect(heard.notes.every((n) => n.pitch >= 62.9)).toBe(true);
    expect(track.pitch.every((p) => p >= 62.99)).toBe(true);
  });

  test('tells how far the side was heard, and in the end that all of it was', async () => {
    const samples = over(sing(TUNE, 3), band(3, ['chords']), 6);
    const recording = { ...recordingOf(samples), side: pack(samples.map((x) => x / 9)) };
    for (const source of ['solo', 'mix'] as const) {
      const heardTo: number[] = [];
      const request = { source, lowestMidi: null, highestMidi: null };
      await hear(recording, request, undefined, (before) => heardTo.push(before));
      expect(heardTo).toEqual(source === 'mix' ? [0, 3 * RATE] : [3 * RATE]);
    }
  });

  test('a solo left to decide is heard as one asked for; it says why', async () => {
    const recording = recordingOf(sing(TUNE, 3));
    const [asked, left] = [
      await hear(recording, OPTIONS),
      await hear(recording, { source: 'auto', lowestMidi: null, highestMidi: null }),
    ];
    expect(left.track).toEqual(asked.track);
    expect(left.heard).toEqual(asked.heard);
    expect(asked.heardAs).toEqual({ source: 'solo', why: null });
    expect(left.heardAs).toEqual({ source: 'solo', why: expect.stringMatching(/^[a-z ]+$/) });
  });

  test('a mix left to decide is heard as one asked for, in the range of a mix', async () => {
    const voice = sing(TUNE, 3);
    const recording = recordingOf(over(voice, band(3, ['chords', 'bass', 'drums']), 0));
    const [asked, left] = [
      await hear(recording, defaultHearOptions('mix')),
      await hear(recording, { source: 'auto', lowestMidi: null, highestMidi: null }),
    ];
    expect(left.heardAs.source).toBe('mix');
    expect(left.track).toEqual(asked.track);
  });

  test.each([0, 1, 100, 2 * RATE])(
    '%i samples of silence: a NoMelodyError, exit status 4',
    async (length) => {
      const heard = hear(recordingOf(new Float32Array(length)), OPTIONS);
      await expect(heard).rejects.toThrow(NoMelodyError);
      await expect(heard).rejects.toMatchObject({ code: 'no-melody', exitStatus: 4 });
    },
  );

  test('a click, a row of clicks and a constant hold no melody', async () => {
    const click = new Float32Array(RATE);
    click[8000] = 1;
    const clicks = Float32Array.from({ length: 3 * RATE }, (_, n) => (n % 8000 === 4000 ? 0.9 : 0));
    const constant = new Float32Array(RATE).fill(0.5);
    for (const samples of [click, clicks, constant]) {
      await expect(hear(recordingOf(samples), OPTIONS)).rejects.toThrow(NoMelodyError);
    }
  });

  test('options that cannot be met are refused before anything is heard', async () => {
    const impossible = { ...OPTIONS, lowestMidi: 70, highestMidi: 60 };
    await expect(hear(recordingOf(new Float32Array(RATE)), impossible)).rejects.toThrow(UsageError);
  });

  test('the same recording gives the same answer twice, and its samples are left alone', async () => {
    const samples = sing(TUNE, 3);
    const kept = Float32Array.from(samples);
    const first = await hear(recordingOf(samples), OPTIONS);
    expect(await hear(recordingOf(samples), OPTIONS)).toEqual(first);
    expect(samples).toEqual(kept);
  });
});
