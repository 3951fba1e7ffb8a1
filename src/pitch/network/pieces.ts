/** Frames that a network sees at once; what is kept of them is everything but the context on either side. */
export interface Piece {
  /** First frame given to the network, context included. */
  readonly first: number;
  /** Frames given to the network. */
  readonly count: number;
  /** First frame kept. */
  readonly keepFirst: number;
  /** Frames kept. */
  readonly keepCount: number;
}

/**
 * A long run of frames in pieces, so that memory is bounded. A network whose output depends on no more than
 * `context` frames on either side says the same in pieces as at once.
 *
 * @param total frames of the whole run
 * @param size frames kept of each piece, at least 1
 * @param context frames of context on either side, where there are any
 */
export function pieces(total: number, size: number, context: number): Piece[] {
  const all: Piece[] = [];
  for (let keepFirst = 0; keepFirst < total; keepFirst += size) {
    const keepCount = Math.min(size, total - keepFirst);
    const first = Math.max(0, keepFirst - context);
    const count = Math.min(total, keepFirst + keepCount + context) - first;
    all.push({ first, count, keepFirst, keepCount });
  }
  return all;
}
