/** What only a process shows: pipes that close, signals, full disks. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { makePlaces } from './places.js';
import { BIN, fixture, inShell } from './run.js';

const places = makePlaces();
afterAll(places.remove);

/** More than the 64 KiB that a pipe holds. */
const LONG_LIST = Array.from(
  { length: 1500 },
  (_, i) => `-\t-\t-\t${(0.5 * i).toFixed(3)}\t0.500\t${['C4', 'E4', 'G4', 'D4'][i % 4]}\t0\t0.90\t1\t`,
).join('\n');

writeFileSync(places.at('long.txt'), LONG_LIST);

describe('in a shell', () => {
  test('a reader that goes away ends the program quietly, with status 0 and its files written', () => {
    const run = inShell(
      // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the shell's
      '$CANTILENA long.txt --json --quiet --midi long.mid | head -1; echo ${PIPESTATUS[0]}; ls long.mid',
      places.folder,
    );
    expect(run).toEqual({ status: 0, stdout: '{\n0\nlong.mid\n', stderr: '' });
  });

  test('standard error may be closed too', () => {
    const run = inShell('$CANTILENA two.mid 2>&- | wc -l', places.folder);
    // Five # lines and two notes.
    expect(run.stdout.trim()).toBe('7');
  });

  test('awk takes the note names out of a pipe while a MIDI file is written', () => {
    const run = inShell(
      `$CANTILENA ${fixture('stereo-sung.flac')} --midi f.mid | awk -F'\\t' '!/^#/{print $6}'`,
      places.folder,
    );
    expect(run.stdout).toMatch(/^([A-G][b#]?\d\n)+$/);
    // The tune has eleven notes: 65 65 65 67 69 67 65 69 67 67 65, as its truth file says.
    expect(run.stdout).toMatch(/F4\nF4\n.*G4\nA4\nG4\nF4\n/s);
    expect(run.status).toBe(0);
    expect(readdirSync(places.folder)).toContain('f.mid');
  });

  test.skipIf(process.platform !== 'linux')('a full disk is told, with status 2', () => {
    const run = inShell('$CANTILENA two.mid --quiet > /dev/full', places.folder);
    expect(run).toMatchObject({
      status: 2,
      stderr: 'cantilena: standard output cannot be written: the disk is full.\n',
    });
  });

  test.skipIf(process.platform === 'win32')('a result may go to a device, which is never replaced', () => {
    const run = inShell('$CANTILENA two.mid --quiet --midi /dev/null && test -c /dev/null', places.folder);
    expect(run.status).toBe(0);
  });

  test('a named pipe is an input too', () => {
    const run = inShell('$CANTILENA <(cat two.mid) --quiet | tail -1 | cut -f6', places.folder);
    expect(run.stdout).toBe('E4\n');
  });
});

describe('as a process', () => {
  test('an interruption ends it quietly, as shells count it with 130', async () => {
    const child = spawn(process.execPath, [BIN, places.at('long.txt'), '--json']);
    let said = '';
    // Nobody reads its output, so that it waits with a full pipe once it has said what it read.
    child.stderr.setEncoding('utf8').on('data', (part: string) => {
      said += part;
      child.kill('SIGINT');
    });
    const [status, signal] = await once(child, 'exit');
    expect({ status, signal }).toEqual({ status: null, signal: 'SIGINT' });
    expect(said).toMatch(/^\S+long\.txt: 1500 notes read from a note list\.\n$/);
  });

  test('without the compiled program it says what to run', () => {
    mkdirSync(places.at('clone/bin'), { recursive: true });
    writeFileSync(places.at('clone/package.json'), '{ "type": "module" }');
    copyFileSync(BIN, places.at('clone/bin/cantilena.js'));
    const run = inShell(`${process.execPath} clone/bin/cantilena.js --help`, places.folder);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/^cantilena: [^\n]*npm run build[^\n]*\n$/);
  });
});
