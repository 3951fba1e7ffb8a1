/**
 * The only door to the engraver, verovio (Rism Digital Center, LGPL-3.0-or-later). It takes half a second to start,
 * so it is loaded where a sheet is made and nowhere else, and once for all sheets. It reads damaged scores without a
 * word, so that what it drew is counted by slices.ts.
 */

/** Draws a MusicXML score as one long strip, a single system without page or margins, as SVG. */
export type Engrave = (musicXml: string) => string;

/**
 * `svgFormatRaw` leaves out blanks. The strip is never broken (rows are made in rows.ts), takes the room it needs, and
 * has neither bar numbers nor headings. Page width and height are only limits. Notes stand a little wider than the
 * engraver's own 0.25 puts them, since names need the room; at 0.3 four bars of quarters no longer fit a row (our
 * choice, by eye).
 */
const OPTIONS = {
  breaks: 'none',
  adjustPageHeight: true,
  adjustPageWidth: true,
  pageWidth: 100_000,
  pageHeight: 60_000,
  pageMarginLeft: 0,
  pageMarginRight: 0,
  header: 'none',
  footer: 'none',
  mnumInterval: 0,
  spacingLinear: 0.28,
  svgFormatRaw: true,
  svgViewBox: true,
} as const;

let started: Promise<Engrave> | null = null;

/** Starts the engraver, or gives the one that was started. */
export function startEngraver(): Promise<Engrave> {
  started ??= start();
  return started;
}

async function start(): Promise<Engrave> {
  const [{ default: create }, { VerovioToolkit, enableLog }] = await Promise.all([
    import('verovio/wasm'),
    import('verovio/esm'),
  ]);
  const module = await create();
  enableLog(0, module);
  const toolkit = new VerovioToolkit(module);
  toolkit.setOptions(OPTIONS);
  return (musicXml) => {
    if (!toolkit.loadData(musicXml)) throw new Error('the engraver refused the score');
    return toolkit.renderToSVG(1);
  };
}
