/** Bars → rows that fit a width. Used when the page is made, and in the page when its width changes. */
import type { Frame, LineDrawing, Piece } from './drawing.js';

/** Units in one em of a row's font size: the page sets the size of the staff by it (720 units are four spaces). */
const UNITS_PER_EM = 1000;

/**
 * Indices of the bars that begin a row, 0 first: as few rows as hold all bars, and the widest of them as narrow as
 * can be, so that eight bars that do not fit become four and four. A bar wider than a row has one of its own.
 *
 * @param widths of the bars
 * @param room for bars in the first row, and in every later one
 */
export function rowStarts(
  widths: readonly number[],
  room: readonly [first: number, later: number],
): number[] {
  const most = greedy(widths, room);
  let [low, high] = [0, Math.max(...room)];
  let best = most;
  // Halving the difference to a thousandth of it finds the narrowest limit that needs no more rows.
  for (let round = 0; round < 10; round++) {
    const limit = (low + high) / 2;
    const less = room[1] - limit;
    const tried = greedy(widths, [room[0] - less, limit]);
    if (tried.length <= most.length) {
      best = tried;
      high = limit;
    } else low = limit;
  }
  return best;
}

function greedy(widths: readonly number[], [first, later]: readonly [number, number]): number[] {
  const starts = [0];
  let used = 0;
  widths.forEach((width, i) => {
    const room = starts.length === 1 ? first : later;
    if (used > 0 && used + width > room) {
      starts.push(i);
      used = 0;
    }
    used += width;
  });
  return starts;
}

/**
 * A line is set this much smaller where it then needs a row less (our choice: a staff of 6.3 mm reads as well as one
 * of 7.2).
 */
const LEAST_SCALE = 0.88;

/**
 * The rows of one line, each an SVG, all of one size.
 * @param withTime whether the first row shows the time signature
 * @param most width of a row
 */
export function rowsOf(frame: Frame, line: LineDrawing, withTime: boolean, most: number): string[] {
  const before = frame.clef.width;
  const first = before + (withTime ? frame.time.width : 0);
  const widths = line.bars.map(({ width }) => width);
  const startsIn = (room: number) => rowStarts(widths, [room - first, room - before]);
  const [usual, smaller] = [startsIn(most), startsIn(most / LEAST_SCALE)];
  const starts = smaller.length < usual.length ? smaller : usual;
  const rows = starts.map((start, i) => [
    frame.clef,
    ...(withTime && i === 0 ? [frame.time] : []),
    ...line.bars.slice(start, starts[i + 1] ?? line.bars.length),
  ]);
  const widest = Math.max(...rows.map((row) => row.reduce((sum, { width }) => sum + width, 0)));
  // Below the least only where a single bar is wider than a row.
  const scale = Math.min(1, most / widest);
  return rows.map((pieces) => rowSvg(frame, line, pieces, scale));
}

function rowSvg(
  { staff, lineWidth }: Frame,
  { top, bottom }: LineDrawing,
  pieces: readonly Piece[],
  scale: number,
): string {
  const height = bottom - top;
  let at = 0;
  const parts = pieces.map(({ x, width, art, words }) => {
    const left = at;
    at += width;
    const cut = `<svg x="${left}" y="${top}" width="${width}" height="${height}" viewBox="${x} ${top} ${width} ${height}">${art}</svg>`;
    return words === '' ? cut : `${cut}<g transform="translate(${left - x})">${words}</g>`;
  });
  const lines = `<path d="${staff.map((y) => `M0 ${y}H${at}`).join('')}" stroke-width="${lineWidth}"/>`;
  const em = (units: number) => `${Math.round(scale * units) / UNITS_PER_EM}em`;
  return `<svg class="row" width="${em(at)}" height="${em(height)}" viewBox="0 ${top} ${at} ${height}" aria-hidden="true" focusable="false">${lines}${parts.join('')}</svg>`;
}
