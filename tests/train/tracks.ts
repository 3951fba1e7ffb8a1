/**
 * `npx tsx tests/train/tracks.ts OUT FILE…`: writes what the solo tracker finds in each recording to
 * OUT/NAME.json, for `pack.py --tracks OUT` beside the networks: `pitch` (MIDI numbers), `strength` (periodicity
 * 0..1) and `voiced` (0..1), one entry every 10 ms.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import { decodeRecording } from '../../src/audio/decode.js';
import { defaultHearOptions } from '../../src/pipeline/options.js';
import { bestPath } from '../../src/pitch/best-path.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { midiToHz } from '../../src/units.js';

/** What the program looks for where nobody says otherwise: the low-pass goes by it, so the network learns what it will get. */
const { lowestMidi, highestMidi } = defaultHearOptions('solo');
const RANGE = { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) };

const [out, ...files] = process.argv.slice(2);
if (out === undefined || files.length === 0) {
  console.error('Give a folder to write to, and recordings.');
  process.exit(2);
}
const nameOf = (file: string) => basename(file, extname(file));
const twice = files.find((file, i) => files.findIndex((other) => nameOf(other) === nameOf(file)) < i);
if (twice !== undefined) {
  console.error(`Two recordings are called ${nameOf(twice)}: give one of them another name.`);
  process.exit(2);
}
mkdirSync(out, { recursive: true });
const rounded = (values: Float32Array, digits: number) =>
  Array.from(values, (v) => (Number.isFinite(v) ? Number(v.toFixed(digits)) : 0));
for (const file of files) {
  const recording = await decodeRecording(readFileSync(file), file);
  const path = bestPath(periodicity(recording.samples, recording.sampleRate, RANGE));
  const { voiced } = await trackSolo(recording, RANGE);
  const text = JSON.stringify({
    pitch: rounded(path.pitch, 2),
    strength: rounded(path.strength, 3),
    voiced: rounded(voiced, 2),
  });
  writeFileSync(join(out, `${nameOf(file)}.json`), text);
}
