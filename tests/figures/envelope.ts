import { type Panel, stroke, upright } from './svg.js';

/** Width of a column, in the figure's units. */
const COLUMN = 4;

/** The sound as upright strokes between its lowest and highest sample in each column. */
export function envelope(samples: Float32Array, sampleRate: number, p: Panel): string {
  const perColumn = Math.round((COLUMN / (p.right - p.left)) * (p.time.to - p.time.from) * sampleRate);
  const first = Math.round(p.time.from * sampleRate);
  let d = '';
  for (let x = p.left; x < p.right; x += COLUMN) {
    const from = first + ((x - p.left) / COLUMN) * perColumn;
    const part = samples.subarray(from, from + perColumn);
    const [low, high] = [part.reduce((a, b) => Math.min(a, b), 0), part.reduce((a, b) => Math.max(a, b), 0)];
    d += upright(x + COLUMN / 2, p.value.place(low) + 1, p.value.place(high) - 1);
  }
  return stroke(d, 'grey');
}
