import type { Bar, Piece } from './written-bars.js';
import type { WrittenMeter } from './written-meter.js';

/** What a beam does at a note, as MusicXML names it. */
export type Beam = 'begin' | 'continue' | 'end' | 'forward hook' | 'backward hook';

/** Beams of the values that have any. */
const LEVELS: Readonly<Record<string, number>> = { eighth: 1, '16th': 2, '32nd': 3 };

/**
 * Beams for each piece of a bar, outermost first: notes with flags that follow each other inside one pulse
 * (a beat; three eighths in 6/8) are joined, rests and grace notes part them (common practice). A shorter
 * note without a neighbour of its kind gets a hook: towards the right at the start of its run, else left.
 */
export function beamsOf(bar: Bar, meter: WrittenMeter): Beam[][] {
  const beams: Beam[][] = bar.pieces.map(() => []);
  for (const run of runs(bar.pieces, meter)) {
    if (run.length < 2) continue;
    for (let level = 1; level <= 3; level++) {
      for (const index of run) {
        if (!isBeamed(index, run, bar, level)) continue;
        const before = isBeamed(index - 1, run, bar, level);
        const after = isBeamed(index + 1, run, bar, level);
        beams[index]!.push(
          before && after
            ? 'continue'
            : after
              ? 'begin'
              : before
                ? 'end'
                : index === run[0]
                  ? 'forward hook'
                  : 'backward hook',
        );
      }
    }
  }
  return beams;
}

function isBeamed(index: number, run: readonly number[], bar: Bar, level: number): boolean {
  return run.includes(index) && levels(bar.pieces[index]!) >= level;
}

function levels(piece: Piece): number {
  if (piece.written === null || piece.value === null || piece.start === piece.end) return 0;
  return LEVELS[piece.value.type] ?? 0;
}

/** Indices of notes with flags that follow each other inside one pulse. */
function runs(pieces: readonly Piece[], { pulseTicks, barTicks }: WrittenMeter): number[][] {
  const pulse = (piece: Piece) => {
    const bar = Math.floor(piece.start / barTicks);
    return bar * barTicks + Math.floor((piece.start - bar * barTicks) / pulseTicks);
  };
  const found: number[][] = [];
  pieces.forEach((piece, index) => {
    if (levels(piece) === 0) return;
    const run = found.at(-1);
    const before = run?.at(-1);
    if (run && before === index - 1 && pulse(pieces[before]!) === pulse(piece)) run.push(index);
    else found.push([index]);
  });
  return found;
}
