/** Guides of true melodies, heard by the program as recordings. */
import { decodeRecording } from '../../../src/audio/decode.js';
import { dither } from '../../../src/audio/dither.js';
import { PLAY_RATE } from '../../../src/audio/playable.js';
import { encodeWav } from '../../../src/audio/write-wav.js';
import { truePeak } from '../../../src/dsp/true-peak.js';
import { hear } from '../../../src/pipeline/hear.js';
import { planGuide } from '../../../src/practice/guide/plan.js';
import { renderGuide } from '../../../src/practice/guide/render.js';
import { PLAIN_GUIDE } from '../../../src/practice/guide/types.js';
import { amplitudeToDb } from '../../../src/units.js';
import { melodyOf } from '../../practice/guide/tunes.js';
import { type ScoredNote, scoreNotes } from '../note-scores.js';
import { alignTable } from '../report.js';

/** A rendered case. */
export interface Made {
  readonly name: string;
  readonly path: string;
  readonly notes: readonly ScoredNote[];
}

const SOLO = { source: 'solo', lowestMidi: null, highestMidi: null } as const;
const HEAD = ['guide heard back', 'notes', 'COn', 'COnP', 'COnPOff', 'peak dB', 'first sound s'];

/** The keys of a plan against what is heard in its sound, a row a melody. */
export async function heardBackTable(made: readonly Made[]): Promise<string> {
  const rows: string[][] = [];
  const all: number[] = [];
  for (const { name, notes } of made) {
    const melody = melodyOf(
      notes.map(({ start, end, pitch }) => ({ midi: Math.round(pitch), start, length: end - start })),
    );
    const plan = planGuide(melody, melody.notes, PLAIN_GUIDE);
    const [piano] = renderGuide(plan, null);
    const recording = await decodeRecording(encodeWav([dither(piano!)], PLAY_RATE), name);
    const { heard } = await hear(recording, SOLO);
    const keys = plan.events.flatMap((event): ScoredNote[] =>
      event.kind === 'key' ? [{ start: event.start, end: event.end, pitch: event.midi }] : [],
    );
    const { con, conp, conpoff } = scoreNotes(keys, heard.notes);
    all.push(conp.f);
    rows.push([
      name,
      String(keys.length),
      ...[con, conp, conpoff].map(({ f }) => f.toFixed(3)),
      amplitudeToDb(truePeak(piano!)).toFixed(1),
      (piano!.findIndex((sample) => sample !== 0) / PLAY_RATE).toFixed(2),
    ]);
  }
  const mean = all.reduce((sum, f) => sum + f, 0) / all.length;
  return `${alignTable(HEAD, rows)}\nmean COnP ${mean.toFixed(3)}`;
}
