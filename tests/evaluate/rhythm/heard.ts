/** Tempo, bars, note values and scale of the rendered recordings, heard from audio as a user would have them heard. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { decodeRecording } from '../../../src/audio/decode.js';
import type { Melody } from '../../../src/melody.js';
import { hear } from '../../../src/pipeline/hear.js';
import { measure } from '../../../src/pipeline/measure.js';
import { bandBeats } from '../../../src/rhythm/band/band-beats.js';
import { bandHarmony } from '../../../src/rhythm/band/band-harmony.js';
import type { Beats } from '../../../src/rhythm/types.js';
import { parseNoteName } from '../../../src/theory/pitch-names.js';
import { madeRhythmRow, madeRhythmText, type RhythmTruth } from './made.js';

interface Truth extends RhythmTruth {
  readonly key: { readonly tonic: number; readonly mode: string };
}

const NOTHING_KNOWN = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };

/** The table over DIR/made, null without it. The scale is right where the first one's tonic and mode are the truth's. */
export async function rhythmReport(root: string): Promise<string | null> {
  const folder = join(root, 'made');
  if (!existsSync(folder)) return null;
  const rows = [];
  const wrongScales: string[] = [];
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.flac'))) {
    const name = file.replace(/\.flac$/, '');
    const truth = JSON.parse(readFileSync(join(folder, `${name}.truth.json`), 'utf8')) as Truth;
    const melody = await heardMelody(join(folder, file));
    const notes = melody.notes.map((note) => ({ ...note, pitch: note.midi + melody.tuningCents / 100 }));
    rows.push(madeRhythmRow(name, notes, beatsOf(melody), truth));
    const { tonic, mode } = melody.scales[0]!;
    const right = parseNoteName(`${tonic}4`)! % 12 === truth.key.tonic && mode === truth.key.mode;
    if (!right) wrongScales.push(`${name} ${tonic} ${mode}`);
  }
  const scales = `first scale right: ${rows.length - wrongScales.length} of ${rows.length}`;
  return `${madeRhythmText(rows)}\n${[scales, ...wrongScales].join('; ')}`;
}

async function heardMelody(path: string): Promise<Melody> {
  const recording = await decodeRecording(readFileSync(path), path, { side: true });
  const { heardAs, heard } = await hear(recording, { source: 'auto', lowestMidi: null, highestMidi: null });
  const band = heardAs.source === 'mix' ? bandBeats(recording) : null;
  const harmony = heardAs.source === 'mix' ? bandHarmony(recording, heard.tuningCents) : null;
  return measure(
    { ...heard, lineStarts: null, heardAs, band, harmony },
    { beat: NOTHING_KNOWN, key: null, hand: 'medium' },
  );
}

function beatsOf({ tempo, meter }: Melody): Beats | null {
  const { beatsPerBar, beatUnit, firstDownbeat } = meter;
  if (beatsPerBar === null || beatUnit === null || firstDownbeat === null) return null;
  return { seconds: tempo.beats, beatsPerBar, beatUnit, firstDownbeat: tempo.beats.indexOf(firstDownbeat) };
}
