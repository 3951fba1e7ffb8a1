import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import midiFile from 'midi-file';
import { afterAll, describe, expect, test } from 'vitest';

const TRAINING = new URL('../../../src/pitch/network/training/', import.meta.url).pathname;
const python = (...args: string[]) =>
  spawnSync('python3', args, { cwd: TRAINING, env: { ...process.env, PYTHONDONTWRITEBYTECODE: '1' } });
const hasNumpy = python('-c', 'import numpy').status === 0;
const folders: string[] = [];

type Truth = { notes: [number, number, number][]; f0Hz: number[] };

/** Renders made voices and gives every file's bytes by its name. */
const render = (seed: number, seconds: number, pieces: number, ...more: string[]) => {
  const out = mkdtempSync(join(tmpdir(), 'render-'));
  folders.push(out);
  const options = {
    '--seed': seed,
    '--seconds': seconds,
    '--minutes': (seconds * pieces) / 60,
    '--processes': 1,
  };
  const words = Object.entries(options).flatMap(([name, value]) => [name, String(value)]);
  const { status, stderr } = python('render_voices.py', '--out', out, ...words, ...more);
  expect(stderr.toString()).toBe('');
  expect(status).toBe(0);
  const folder = join(out, 'voices');
  return Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name))]));
};

/** Hz of the period that fits best within a tone either way of `near`, by the normalised correlation of 1200 samples. */
const heard = (wave: Buffer, centre: number, near: number) => {
  const at = (i: number) => wave.readInt16LE(44 + 2 * i);
  let best = { hz: 0, fit: -1 };
  for (let lag = Math.floor(16000 / near / 1.12); lag <= Math.ceil((16000 / near) * 1.12); lag++) {
    let [product, first, second] = [0, 1, 1];
    for (let i = centre - 600 - (lag >> 1); i < centre + 600 - (lag >> 1); i++) {
      product += at(i) * at(i + lag);
      first += at(i) ** 2;
      second += at(i + lag) ** 2;
    }
    const fit = product / Math.sqrt(first * second);
    if (fit > best.fit) best = { hz: 16000 / lag, fit };
  }
  return best.hz;
};

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

describe.skipIf(!hasNumpy)('made singers (skipped where python3 with numpy is absent)', () => {
  test('a seed gives the same bytes again, and another seed others', () => {
    const once = render(7, 2, 1);
    expect(Object.keys(once).sort()).toEqual(['voice-0001.json', 'voice-0001.wav']);
    expect(once['voice-0001.wav'].length).toBe(44 + 2 * 2 * 16000);
    expect(render(7, 2, 1)).toEqual(once);
    expect(render(8, 2, 1)['voice-0001.wav'].equals(once['voice-0001.wav'])).toBe(false);
  });

  test('the truth has a pitch every 10 ms that is heard in the sound, and notes in order', () => {
    const files = render(3, 4, 4, '--dry');
    const errors: number[] = [];
    for (const name of Object.keys(files).filter((file) => file.endsWith('.json'))) {
      const { notes, f0Hz } = JSON.parse(files[name].toString()) as Truth;
      const wave = files[name.replace('json', 'wav')];
      expect(f0Hz.length).toBe(401);
      for (const [index, [on, off]] of notes.entries()) {
        expect(off).toBeGreaterThan(on);
        expect(on).toBeGreaterThanOrEqual(index ? notes[index - 1][1] - 1e-9 : 0);
      }
      for (let frame = 20; frame < 380; frame += 5) {
        // Whole lags are too coarse above 500 Hz, and a period is only heard where it lasts for what is compared.
        const around = f0Hz.slice(frame - 5, frame + 6);
        const steady = Math.max(...around) / Math.min(...around) < 1.03;
        if (!steady || f0Hz[frame] > 500) continue;
        errors.push(Math.abs(1200 * Math.log2(heard(wave, frame * 160, f0Hz[frame]) / f0Hz[frame])));
      }
    }
    expect(errors.length).toBeGreaterThan(80);
    expect(errors.filter((cents) => cents < 50).length / errors.length).toBeGreaterThan(0.95);
  });
});

describe.skipIf(!hasNumpy)('the MIDI of made bands (skipped where python3 with numpy is absent)', () => {
  test('another reader finds the tempo, the notes in time, the instrument and the bend', () => {
    const program = [
      'import sys; from midi_file import MidiTrack; t = MidiTrack()',
      't.program(3, 30); t.note(3, 1.5, 2, 61, 99.6); t.note(3, 300, 1, 200, 0); t.bend(3, 2, -1)',
      'sys.stdout.buffer.write(t.to_bytes(120))',
    ].join('; ');
    const { header, tracks } = midiFile.parseMidi(python('-c', program).stdout);
    expect(header).toMatchObject({ format: 0, numTracks: 1, ticksPerBeat: 480 });
    let tick = 0;
    const events = tracks[0].map((event) => {
      tick += event.deltaTime;
      return { ...event, tick };
    });
    expect(events).toMatchObject([
      { type: 'setTempo', microsecondsPerBeat: 500_000 },
      { type: 'programChange', channel: 3, programNumber: 30, tick: 0 },
      { type: 'noteOn', noteNumber: 61, velocity: 100, tick: 720 },
      { type: 'pitchBend', value: -4096, tick: 960 },
      { type: 'noteOff', noteNumber: 61, tick: 1680 },
      { type: 'noteOn', noteNumber: 127, velocity: 1, tick: 144_000 },
      { type: 'noteOff', noteNumber: 127, tick: 144_480 },
      { type: 'endOfTrack' },
    ]);
  });
});
