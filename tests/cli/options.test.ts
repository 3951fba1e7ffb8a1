/** Every option of `notes` changes something, and what it says it changes. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { notesCommand } from '../../src/cli/notes-options.js';
import type { MelodyJson } from '../../src/write/json/schema.js';
import { makePlaces } from './places.js';
import { fixture, inProcess, type Surroundings } from './run.js';

const places = makePlaces();
afterAll(places.remove);

const list = places.at('list.txt');
const sung = fixture('stereo-sung.flac');

async function printed(args: readonly string[], around?: Surroundings): Promise<string> {
  const run = await inProcess([...args, '--quiet'], around);
  expect(run).toMatchObject({ status: 0, stderr: '' });
  return run.stdout;
}

async function melody(...args: string[]): Promise<MelodyJson> {
  return JSON.parse(await printed([...args, '--json'])) as MelodyJson;
}

const EFFECTS: Record<string, () => Promise<void>> = {
  async '--json'() {
    expect((await melody(list)).notes.map((note) => note.name)).toContain('Bb4');
  },

  async '--names'() {
    expect(await printed([list, '--names', 'german'])).toMatch(/\tB4\t/);
  },

  async '--list'() {
    const terminal = { terminal: 80, env: { TERM: 'xterm' } };
    const piped = await printed([list]);
    expect(await printed([list, '--list'], terminal)).toBe(piped);
    expect(await printed([list], terminal)).not.toBe(piped);
  },

  async '--midi'() {
    await printed([list, '--midi', places.at('effect.mid')]);
    expect(readFileSync(places.at('effect.mid')).subarray(0, 4).toString()).toBe('MThd');
  },

  async '--musicxml'() {
    await printed([list, '--musicxml', places.at('effect.musicxml')]);
    expect(readFileSync(places.at('effect.musicxml'), 'utf8')).toContain('<score-partwise version="4.0">');
  },

  async '--pitch-track'() {
    const path = places.at('effect.csv');
    const args = [fixture('hummed-sharp.wav'), '--from', '1.5', '--to', '0:04', '--pitch-track', path];
    await printed(args);
    const [head, ...rows] = readFileSync(path, 'utf8').trimEnd().split('\n');
    expect(head).toBe('seconds,hz,voiced');
    const values = rows.map((row) => row.split(',').map(Number));
    expect(values[0]![0]).toBeCloseTo(1.5, 1);
    expect(values.at(-1)![0]).toBeCloseTo(4, 1);
    // The truth file has F4, 35 cents sharp, from 1.4925 to 1.9575 s: 356.4 Hz, within a quarter tone.
    const [, hz, voiced] = values.find(([seconds]) => seconds! >= 1.75)!;
    expect(Math.abs(12 * Math.log2(hz! / 356.4))).toBeLessThan(0.5);
    expect(voiced).toBeGreaterThan(0.5);
  },

  async '--sheet'() {
    // A name that would be markup: written down as text.
    const named = places.at('<img onerror=x>.txt');
    writeFileSync(named, readFileSync(list));
    await printed([named, '--sheet', places.at('effect.html')]);
    const page = readFileSync(places.at('effect.html'), 'utf8');
    expect(page).toMatch(/^<!doctype html>/);
    expect(page).toContain('<h1>&lt;img onerror=x&gt;</h1>');
    expect(page).not.toContain('<img');
    await printed([named, '--sheet', places.at('german.html'), '--names', 'german']);
    expect(readFileSync(places.at('german.html'), 'utf8')).toContain('B4 finger');
  },

  async '--embed-audio'() {
    const path = places.at('with-sound.html');
    await printed([
      fixture('hummed-sharp.wav'),
      '--sheet',
      path,
      '--embed-audio',
      '--from',
      '1',
      '--to',
      '4',
    ]);
    const page = readFileSync(path, 'utf8');
    const [, text] = /id="recording">([^<]+)</.exec(page)!;
    // WAV becomes MP3, which begins with a tag or a frame.
    expect(Buffer.from(text!, 'base64').subarray(0, 2).toString('latin1')).toMatch(/^(ID|\xff[\xe2-\xff])/);
    expect(page).toContain('"sound":{"mediaType":"audio/mpeg","startSeconds":1}');
    // What is compressed already is taken as it is.
    const opus = fixture('piano-joy.opus');
    await printed([opus, '--sheet', path, '--embed-audio', '--force']);
    expect(readFileSync(path, 'utf8')).toContain(`id="recording">${readFileSync(opus).toString('base64')}<`);
    for (const args of [
      [sung, '--embed-audio'],
      [list, '--sheet', places.at('no.html'), '--embed-audio'],
    ]) {
      expect((await inProcess(args)).status).toBe(2);
    }
  },

  async '--svg'() {
    await printed([list, '--svg', places.at('effect.svg')]);
    expect(readFileSync(places.at('effect.svg'), 'utf8')).toMatch(/^<svg .*data-n="12".*<\/svg>\n$/s);
  },

  async '--plot'() {
    await printed([fixture('hummed-sharp.wav'), '--plot', places.at('effect.plot.svg')]);
    expect(readFileSync(places.at('effect.plot.svg'), 'utf8')).toContain('time in the recording (seconds)');
    expect((await inProcess([list, '--plot', places.at('no.svg')])).stderr).toContain(
      '--plot is for recordings',
    );
  },

  async '--out'() {
    await printed([sung, '--out', places.at('new/folder')]);
    const made = (ending: string) => readFileSync(places.at(`new/folder/stereo-sung${ending}`));
    expect(readdirSync(places.at('new/folder'))).toHaveLength(8);
    expect(made('.notes').toString()).toBe(await printed([sung]));
    expect(made('.json').toString()).toBe(await printed([sung, '--json']));
    await printed([sung, '--midi', places.at('stereo-sung.mid'), '--pitch-track', places.at('p.csv')]);
    expect(made('.mid').equals(readFileSync(places.at('stereo-sung.mid')))).toBe(true);
    expect(made('.pitch.csv').equals(readFileSync(places.at('p.csv')))).toBe(true);
    // What was not heard has no pitch over time; standard input has no name.
    await printed(['-', '--out', places.at('three')], { stdin: readFileSync(list) });
    expect(readdirSync(places.at('three')).sort()).toEqual([
      'melody.html',
      'melody.json',
      'melody.mid',
      'melody.musicxml',
      'melody.notes',
      'melody.svg',
    ]);
  },

  async '--force'() {
    const args = [list, '--midi', places.at('forced.mid')];
    writeFileSync(places.at('forced.mid'), 'old');
    expect((await inProcess(args)).status).toBe(2);
    expect(readFileSync(places.at('forced.mid'), 'utf8')).toBe('old');
    await printed([...args, '--force']);
    expect(readFileSync(places.at('forced.mid'), 'utf8')).not.toBe('old');
  },

  async '--quiet'() {
    const args = [list, '--midi', places.at('quiet.mid')];
    expect((await inProcess(args)).stderr).toBe(
      `${list}: 12 notes read from a note list.\nwrote ${places.at('quiet.mid')}\n`,
    );
    expect((await inProcess([...args, '--force', '--quiet'])).stderr).toBe('');
  },

  async '--source'() {
    expect(await printed([sung, '--source', 'mix'])).not.toBe(await printed([sung]));
    // What was asked for needs no reason.
    const reason = / \([a-z ]+\)$/m;
    expect(await printed([sung])).toMatch(reason);
    expect(await printed([sung, '--source', 'solo'])).toBe((await printed([sung])).replace(reason, ''));
    expect(await printed([sung, '--source', 'auto'])).toBe(await printed([sung]));
  },

  async '--from'() {
    const whole = await melody(sung);
    const part = await melody(sung, '--from', '0:02.5');
    const after = whole.notes.filter((note) => note.start > 2.6);
    expect(part.notes[0]!.start).toBeGreaterThanOrEqual(2.5);
    expect(after.length).toBeGreaterThan(3);
    for (const { start, midi } of after) {
      expect(part.notes.some((note) => note.midi === midi && Math.abs(note.start - start) < 0.05)).toBe(true);
    }
    expect(part.recording.seconds).toBeCloseTo(whole.recording.seconds, 2);
  },

  async '--to'() {
    const part = await melody(sung, '--to', '3');
    expect(part.notes.at(-1)!.end).toBeLessThanOrEqual(3);
    expect(part.notes.length).toBeGreaterThan(2);
    expect(part.recording.seconds).toBeCloseTo(3, 2);
  },

  // The tune has its keys from F4 (65) to A4 (69).
  async '--lowest'() {
    const { notes } = await melody(sung, '--lowest', 'G4');
    expect(Math.min(...notes.map((note) => note.pitch))).toBeGreaterThan(66);
    expect(notes.map((note) => note.midi)).toContain(69);
  },

  async '--highest'() {
    // 370 Hz is F#4.
    const { notes } = await melody(sung, '--highest', '370Hz');
    expect(Math.max(...notes.map((note) => note.pitch))).toBeLessThan(67);
    expect(notes.map((note) => note.midi)).toContain(65);
  },

  // Notes every half second: at 120 a minute each is one beat.
  async '--bpm'() {
    const { notes, meter, tempo } = await melody(list, '--bpm', '120', '--downbeat', '0');
    expect(tempo.bpm).toBe(120);
    expect(meter).toEqual({ beatsPerBar: 4, beatUnit: 4, firstDownbeat: 0 });
    const halved = await melody(list, '--bpm', '60', '--downbeat', '0');
    expect(halved.notes.slice(0, 2)).toMatchObject([
      { beat: 1, beats: 0.5 },
      { beat: 1.5, beats: 0.5 },
    ]);
    expect(notes.slice(3, 6).map(({ bar, beat, beats }) => [bar, beat, beats])).toEqual([
      [1, 4, 1],
      [2, 1, 1],
      [2, 2, 1],
    ]);
  },

  async '--meter'() {
    const { notes, meter } = await melody(list, '--bpm', '120', '--meter', '3/4', '--downbeat', '0');
    expect(meter.beatsPerBar).toBe(3);
    expect(notes[3]).toMatchObject({ bar: 2, beat: 1 });
  },

  async '--downbeat'() {
    const { notes, meter } = await melody(list, '--bpm', '120', '--downbeat', '0:00.5');
    expect(meter.firstDownbeat).toBe(0.5);
    expect(notes.slice(0, 2)).toMatchObject([
      { bar: 0, beat: 4 },
      { bar: 1, beat: 1 },
    ]);
  },

  async '--key'() {
    expect((await melody(list)).scales[0]).not.toMatchObject({ tonic: 'B', mode: 'minor' });
    const { notes, scales } = await melody(list, '--key', 'B minor');
    expect(scales[0]).toMatchObject({ tonic: 'B', mode: 'minor' });
    expect(notes[6]!.name).toBe('A#4');
  },

  async '--hand'() {
    const fingers = async (size: string) => (await melody(list, '--hand', size)).notes.map((n) => n.finger);
    const [small, large] = [await fingers('small'), await fingers('large')];
    expect(small).not.toEqual(large);
    expect((await melody(list)).notes.map((n) => n.finger)).toEqual(await fingers('medium'));
  },

  async '--from-finger'() {
    for (const finger of [2, 4]) {
      expect((await melody(list, '--from-finger', String(finger))).notes[0]!.finger).toBe(finger);
    }
  },
};

describe('the options of notes', () => {
  test.each(Object.entries(EFFECTS))('%s', async (_, check) => check());

  test('are all here', () => {
    const declared = notesCommand(() => {}).options.map((option) => option.long);
    expect(Object.keys(EFFECTS).sort()).toEqual(declared.sort());
  });
});
