/** The library: the page about it is run as it stands, and its edges are tried. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import * as library from '../src/index.js';

const { melodyFromNotes, melodyOf, noteNumber, scalesOf, transpose, UsageError } = library;
const ROOT = resolve(import.meta.dirname, '..');
const folder = mkdtempSync(join(tmpdir(), 'cantilena-library-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The program of the page, and what its lines are said to print. */
function pageProgram(): { readonly program: string; readonly prints: readonly string[] } {
  const page = readFileSync(join(ROOT, 'docs/library.md'), 'utf8');
  const lines = page.split('\n').filter((line) => line.startsWith('    ') && !line.startsWith('    npm '));
  const prints = lines.flatMap((line) => {
    const [, print] = /console\.log\(.*\); \/\/ (.*)$/.exec(line) ?? [];
    return print === undefined ? [] : [print];
  });
  return { program: lines.join('\n'), prints };
}

describe('the page on the library', () => {
  test('is a program that prints what it says', () => {
    const { program, prints } = pageProgram();
    const entry = pathToFileURL(join(ROOT, 'src/index.ts')).href;
    const file = join(folder, 'page.mts');
    writeFileSync(file, program.replaceAll("from 'cantilena'", `from '${entry}'`));
    const run = spawnSync(process.execPath, ['--import', import.meta.resolve('tsx'), file], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    expect(run.stderr).toBe('');
    // The line in the loop over three files prints three times.
    const printed = run.stdout.trimEnd().split('\n');
    const inLoop = prints.indexOf('true', prints.indexOf('true') + 1);
    printed.splice(inLoop, 2);
    expect(printed).toEqual(prints);
  });

  test('tells of everything that is exported, types too, and of nothing else', () => {
    const page = readFileSync(join(ROOT, 'docs/library.md'), 'utf8');
    const source = readFileSync(join(ROOT, 'src/index.ts'), 'utf8');
    const types = [...source.matchAll(/^export (?:type|interface) (?:\{ ([^}]*) \}|(\w+))/gm)].flatMap(
      ([, list, one]) => (one === undefined ? list!.split(', ') : [one]),
    );
    expect(types).toEqual(expect.arrayContaining(['Melody', 'MelodyOptions', 'Destination']));
    const exported = [...Object.keys(library), ...types];
    expect(exported.filter((name) => !new RegExp(`\`${name}[\`(]`).test(page))).toEqual([]);
    const told = [...page.matchAll(/^\| (`[A-Za-z]+[`(].*?) +\|/gm)]
      .flatMap(([, cell]) => [...cell!.matchAll(/`([A-Za-z]+)(?:\(|`)/g)])
      .map(([, name]) => name!);
    const options =
      /^(label|source|from|to|lowest|highest|bpm|beatsPerBar|beatUnit|downbeat|key|hand|fromFinger|onWarning)$/;
    expect(told.filter((name) => !exported.includes(name) && !options.test(name))).toEqual([]);
  });
});

describe('the library', () => {
  const note = (midi: number, start: number, end = start + 1) => ({ midi, start, end });

  test('refuses notes that are no melody', () => {
    for (const wrong of [
      [],
      [note(60.5, 0)],
      [note(60, 0), note(62, 0.5)],
      [note(128, 0)],
      [note(60, 1, 1)],
    ]) {
      expect(() => melodyFromNotes(wrong)).toThrow(UsageError);
    }
  });

  test('refuses names, keys and intervals that are none, in a sentence', async () => {
    const melody = melodyFromNotes([note(60, 0), note(64, 1)]);
    expect(() => noteNumber('H')).toThrow('H is not the name of a note: write it as in F, Bb or F#4.');
    expect(() => scalesOf(['X'])).toThrow(UsageError);
    expect(() => transpose(melody, { to: 'X' })).toThrow('X is no key: write it as in F# minor.');
    expect(() => transpose(melody, { by: 'x3' })).toThrow('x3 is no interval: write it as in m3, -M2 or -2.');
    expect(() => transpose(melody, { by: 99 })).toThrow(RangeError);
    await expect(melodyOf('# cantilena note list 1\n', { key: 'none' })).rejects.toThrow(UsageError);
  });

  test('says what is known of the music better than the file does', async () => {
    const melody = melodyFromNotes(
      [60, 62, 64, 65, 67, 65, 64, 62].map((midi, i) => note(midi, i)),
      { bpm: 60, beatsPerBar: 4, downbeat: 0 },
    );
    expect(melody.notes[4]).toMatchObject({ bar: 2, beat: 1 });
    const three = await melodyOf(library.toJson(melody), { beatsPerBar: 3, downbeat: 0, key: 'A minor' });
    expect(three.notes[3]).toMatchObject({ bar: 2, beat: 1 });
    expect(three.scales[0]).toMatchObject({ tonic: 'A', mode: 'minor' });
  });

  test('tells what was amiss with an input', async () => {
    const warnings: string[] = [];
    const wav = readFileSync(join(ROOT, 'fixtures/hummed-sharp.wav'));
    const melody = await melodyOf(wav.subarray(0, wav.length - 20_000), {
      label: 'cut.wav',
      source: 'solo',
      onWarning: (sentence) => warnings.push(sentence),
    });
    expect(melody.notes.length).toBeGreaterThan(3);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^cut\.wav: /);
  });
});
