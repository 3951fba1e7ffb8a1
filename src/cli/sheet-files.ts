/** The sheet, the notation and the plot, as files. */
import type { PageSound } from '../audio/types.js';
import type { HandSize } from '../hand/types.js';
import type { Melody } from '../melody.js';
import type { PitchTrack } from '../pitch/types.js';
import type { NameSystem } from '../theory/name-systems.js';

export type SheetKind = 'sheet' | 'notation' | 'plot';

/** What they are made of. */
export interface SheetParts {
  readonly melody: Melody;
  /** Null where there was no recording; a plot is only asked for where there is one. */
  readonly track: PitchTrack | null;
  /** Name of the input. */
  readonly title: string;
  readonly names: NameSystem;
  readonly hand: HandSize;
  readonly sound: PageSound | null;
}

/** Has the engraver start while something else is waited for, where it will be wanted; what goes wrong shows when it is. */
export function startEngraverFor(kinds: readonly string[]): void {
  if (!kinds.some((kind) => kind === 'sheet' || kind === 'notation')) return;
  void import('../write/sheet/engrave.js').then(({ startEngraver }) => startEngraver()).catch(() => {});
}

/** Loads engraver and writers only when they are wanted: the engraver takes half a second to start. */
export async function sheetContentOf(kind: SheetKind, parts: SheetParts): Promise<string> {
  const { melody, track, title, names, hand, sound } = parts;
  if (kind === 'plot') return (await import('../write/plot/plot.js')).melodyPlot(melody, track!, title);
  const engrave = await (await import('../write/sheet/engrave.js')).startEngraver();
  if (kind === 'notation') {
    return (await import('../write/sheet/notation-svg.js')).notationSvg(melody, title, names, engrave);
  }
  const [{ inEveryKey }, { sheetHtml }] = await Promise.all([
    import('../pipeline/sheet-keys.js'),
    import('../write/sheet/document.js'),
  ]);
  return sheetHtml({ title, melody, keys: inEveryKey(melody, hand), names, track, sound }, engrave);
}
