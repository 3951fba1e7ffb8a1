/** A folder with small inputs of every kind, made anew for a test file. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { badInputs } from '../../fixtures/maker/bad-inputs.js';

export interface Places {
  readonly folder: string;
  readonly at: (name: string) => string;
  readonly remove: () => void;
}

/** Twelve notes up and down in two lines, wide enough for hand sizes to matter, half a second each. */
export const LIST = [
  '# cantilena note list 1',
  '# seconds 8.000',
  '# tuning-cents 0.0',
  ...['C4', 'D4', 'E4', 'F4', 'G4', 'C5'].map((n, i) => row(1, 0.5 * i, n)),
  ...['Bb4', 'E4', 'D5', 'F4', 'E5', 'C4'].map((n, i) => row(2, 4 + 0.5 * i, n)),
  '',
].join('\n');

function row(line: number, start: number, name: string): string {
  return `${line}\t-\t-\t${start.toFixed(3)}\t0.500\t${name}\t0\t0.90\t1\t`;
}

/** A format 0 file, by hand: C4 for a quarter note, E4 for a half, 480 ticks a quarter note, no tempo. */
// biome-ignore format: a line an event
const MIDI = Uint8Array.from([
  ...Buffer.from('MThd'), 0, 0, 0, 6, 0, 0, 0, 1, 0x01, 0xe0,
  ...Buffer.from('MTrk'), 0, 0, 0, 22,
  0, 0x90, 60, 80,
  0x83, 0x60, 0x80, 60, 0,
  0, 0x90, 64, 80,
  0x87, 0x40, 0x80, 64, 0,
  0, 0xff, 0x2f, 0,
]);

export function makePlaces(): Places {
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-cli-'));
  const at = (name: string) => join(folder, name);
  mkdirSync(at('folder'));
  for (const [name, bytes] of Object.entries(badInputs())) writeFileSync(at(`${name}.wav`), bytes);
  writeFileSync(at('list.txt'), LIST);
  writeFileSync(at('two.mid'), MIDI);
  writeFileSync(at('there.mid'), 'something dear');
  writeFileSync(at('not-json.json'), '{ "format": ');
  writeFileSync(at('other.json'), '{ "format": "something else" }');
  writeFileSync(at('wrong-note.txt'), LIST.replace('\tE4\t', '\tH4\t'));
  writeFileSync(at('utf16.txt'), Buffer.from(`\uFEFF${LIST}`, 'utf16le'));
  writeFileSync(at('latin1.txt'), Buffer.from(`# Lied für Anna\n${LIST}`, 'latin1'));
  writeFileSync(at('no-notes.txt'), '# cantilena note list 1\n');
  writeFileSync(at('cut.mid'), MIDI.slice(0, 30));
  writeFileSync(at('line\nbreak.txt'), 'x');
  return { folder, at, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
