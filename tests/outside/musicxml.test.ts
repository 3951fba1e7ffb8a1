/**
 * The score against the standard's own schema (MusicXML 4.0, W3C Music Notation Community Group, 2021: the folder
 * MUSICXML_XSD names, with musicxml.xsd in it) and against an independent reader, the engraver verovio.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { expect, test } from 'vitest';
import { melodyMusicXml } from '../../src/write/score/musicxml.js';
import { melodies, TWO_LINES } from '../write/melodies.js';

const schemas = process.env.MUSICXML_XSD;
const canValidate = schemas !== undefined && spawnSync('xmllint', ['--version']).status === 0;
/** The schema knows octaves 0 to 9: C0 is MIDI number 12. */
const inOctaves = melodies.filter(({ notes }) => notes.every((note) => note.midi >= 12));
const scoreOf = (melody: typeof TWO_LINES) =>
  melodyMusicXml(melody, { title: 'A <title> & more', key: melody.scales[0] ?? null });

test.skipIf(!canValidate)(
  `scores are valid by the schema${canValidate ? '' : ' (skipped: set MUSICXML_XSD to its folder, and install xmllint)'}`,
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'cantilena-musicxml-'));
    try {
      const files = [TWO_LINES, ...fc.sample(inOctaves, { numRuns: 20, seed: 5 })].map((melody, i) => {
        const file = join(folder, `${i}.musicxml`);
        writeFileSync(file, scoreOf(melody));
        return file;
      });
      const checked = spawnSync(
        'xmllint',
        ['--nonet', '--noout', '--schema', join(schemas!, 'musicxml.xsd'), ...files],
        { encoding: 'utf8' },
      );
      expect(checked.stderr.split('\n').filter((line) => !/ validates$/.test(line) && line !== '')).toEqual(
        [],
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
);

test('an independent reader finds the same keys, starts and lengths in beats', async () => {
  const [{ default: create }, { VerovioToolkit }] = await Promise.all([
    import('verovio/wasm'),
    import('verovio/esm'),
  ]);
  const toolkit = new VerovioToolkit(await create());
  expect(toolkit.loadData(scoreOf(TWO_LINES))).toBeTruthy();
  const { header, tracks } = parseMidi(Buffer.from(toolkit.renderToMIDI(), 'base64'));
  const pressed = new Map<number, number>();
  const read: { midi: number; start: number; beats: number }[] = [];
  for (const track of tracks) {
    let ticks = 0;
    for (const event of track) {
      ticks += event.deltaTime;
      const now = ticks / header.ticksPerBeat!;
      if (event.type === 'noteOn' && event.velocity > 0) pressed.set(event.noteNumber, now);
      else if (event.type === 'noteOff' || event.type === 'noteOn') {
        const start = pressed.get(event.noteNumber)!;
        read.push({ midi: event.noteNumber, start, beats: now - start });
      }
    }
  }
  const written = TWO_LINES.notes.map(({ midi, bar, beat, beats }) => ({
    midi,
    start: 4 * (bar! - 1) + beat! - 1,
    beats: beats!,
  }));
  expect(read).toHaveLength(written.length);
  read.forEach((note, i) => {
    expect(note.midi).toBe(written[i]!.midi);
    expect(note.start).toBeCloseTo(written[i]!.start, 1);
    expect(note.beats).toBeCloseTo(written[i]!.beats, 1);
  });
});
