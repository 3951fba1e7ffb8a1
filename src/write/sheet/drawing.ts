/** What a row of notation is put together from; made once for every key, and put together again in the page. */

/** A piece of the engraved strip. All lengths are in the engraver's units, 180 a staff space. */
export interface Piece {
  /** Where the piece begins in the coordinates of its markup. */
  readonly x: number;
  readonly width: number;
  /** Markup that is cut off at the edges of the piece. */
  readonly art: string;
  /** Markup of words, which may stand out over the edges; empty for signatures. */
  readonly words: string;
}

/** The bars of one line of the song. */
export interface LineDrawing {
  /** Highest and lowest y that anything of the line takes. */
  readonly top: number;
  readonly bottom: number;
  readonly bars: readonly Piece[];
}

/** What all lines in one key share. */
export interface Frame {
  /** Clef and key signature: they begin every row. */
  readonly clef: Piece;
  /** The time signature, shown in the first row of all; of no width where there is none. */
  readonly time: Piece;
  /** The five lines of the staff. */
  readonly staff: readonly number[];
  readonly lineWidth: number;
}
