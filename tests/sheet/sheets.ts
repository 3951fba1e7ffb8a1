/** Sheets for the tests. */
import type { PageSound } from '../../src/audio/types.js';
import type { Melody } from '../../src/melody.js';
import { measure } from '../../src/pipeline/measure.js';
import { inEveryKey } from '../../src/pipeline/sheet-keys.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { parseNoteName } from '../../src/theory/pitch-names.js';
import { sheetHtml } from '../../src/write/sheet/document.js';
import { startEngraver } from '../../src/write/sheet/engrave.js';

/** Beethoven's melody from the Ninth Symphony: names and quarters of each line. */
const FIRST = 'E4 1 E4 1 F4 1 G4 1 G4 1 F4 1 E4 1 D4 1 C4 1 C4 1 D4 1 E4 1 E4 1.5 D4 .5 D4 2';
const SECOND = 'E4 1 E4 1 F4 1 G4 1 G4 1 F4 1 E4 1 D4 1 C4 1 C4 1 D4 1 E4 1 D4 1.5 C4 .5 C4 2';
const THIRD = 'D4 1 D4 1 E4 1 C4 1 D4 1 E4 .5 F4 .5 E4 1 C4 1 D4 1 E4 .5 F4 .5 E4 1 D4 1 C4 1 D4 1 G3 2';
/** Quick, so that a line is soon over. */
const QUARTER_SECONDS = 0.25;
const START_SECONDS = 0.5;

/** The melody as it was heard, sixteen bars at 240 quarters a minute; its third note may have been F sharp. */
export function fourLines(): Melody {
  const lines = [FIRST, SECOND, THIRD, SECOND].map((line) => line.match(/\S+ \S+/g)!);
  let at = START_SECONDS;
  const notes = lines.flat().map((note, i) => {
    const [name, quarters] = note.split(' ');
    const midi = parseNoteName(name!)!;
    const start = at;
    at += Number(quarters) * QUARTER_SECONDS;
    const doubt = i === 2;
    const other = doubt ? 66 : null;
    return { start, end: at - 0.02, midi, pitch: midi + 0.12, confidence: doubt ? 0.5 : 0.95, other };
  });
  const starts = lines.map((_, i) => 1 + lines.slice(0, i).flat().length);
  return measure(
    { notes, tuningCents: 12, seconds: at + 1, lineStarts: starts, heardAs: null, band: null },
    {
      beat: { bpm: 240, beatsPerBar: 4, beatUnit: 4, firstDownbeatSeconds: START_SECONDS },
      key: { tonic: 'C', mode: 'major' },
      hand: 'medium',
    },
  );
}

/** A track that follows the melody's notes exactly, in steps of 10 ms. */
export function trackOf(melody: Melody): PitchTrack {
  const hopSeconds = 0.01;
  const frameCount = Math.ceil(melody.recording.seconds / hopSeconds);
  const at = (i: number) =>
    melody.notes.find(({ start, end }) => i * hopSeconds >= start && i * hopSeconds < end);
  const filled = (value: (i: number) => number) =>
    Float32Array.from({ length: frameCount }, (_, i) => value(i));
  return {
    grid: { hopSeconds, firstCentreSeconds: 0, frameCount },
    pitch: filled((i) => at(i)?.pitch ?? 0),
    voiced: filled((i) => (at(i) ? 1 : 0)),
    sounding: filled((i) => (at(i) ? 1 : 0)),
    onset: filled(() => 0),
    levelDb: filled(() => -20),
  };
}

export async function sheetOf(
  melody: Melody,
  title: string,
  sound: PageSound | null = null,
): Promise<string> {
  const keys = inEveryKey(melody, 'medium');
  return sheetHtml(
    { title, melody, keys, names: 'english', track: trackOf(melody), sound },
    await startEngraver(),
  );
}
