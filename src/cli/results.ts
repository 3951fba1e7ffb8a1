/** What a command makes of a melody: the files asked for, and what is printed. */
import { basename, extname, join } from 'node:path';
import type { Melody } from '../melody.js';
import type { PitchTrack } from '../pitch/types.js';
import type { NameSystem } from '../theory/name-systems.js';
import { melodyJson } from '../write/json/json.js';
import { noteList } from '../write/note-list/note-list.js';
import { screenLayout } from '../write/screen/screen.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import type { NotesPlan } from './notes-options.js';
import { paintFor } from './paint.js';
import type { SheetKind } from './sheet-files.js';
import type { Target } from './write-files.js';
import type { WritingPlan } from './writing-options.js';

type MelodyKind = 'list' | 'json' | 'midi' | 'musicxml' | 'pitch track';
type TargetKind = MelodyKind | SheetKind;

/** A file of the melody alone, without a page round it. */
export type MelodyWish = Target & { readonly kind: MelodyKind };
type SheetWish = Target & { readonly kind: SheetKind };
/** A target, and what goes there. */
export type Wish = MelodyWish | SheetWish;

const SHEET_KINDS: readonly TargetKind[] = ['sheet', 'notation', 'plot'];
/** Results that show a recording and are not there without one. */
export const OF_A_RECORDING: ReadonlySet<TargetKind> = new Set<TargetKind>(['pitch track', 'plot']);

/** Name of the input without folder and ending. */
export function nameOf(input: string): string {
  return input === '-' ? 'melody' : basename(input, extname(input));
}

type OwnFiles = Pick<NotesPlan, 'pitchTrack' | 'sheet' | 'svg' | 'plot'>;

export function isOfMelody(wish: Wish): wish is MelodyWish {
  return !SHEET_KINDS.includes(wish.kind);
}

/** The files that a plan asks for; those in a folder are called `name`. */
export function wishesOf(plan: WritingPlan & Partial<OwnFiles>, name: string): Wish[] {
  const { midi, musicXml, pitchTrack = null, sheet = null, svg = null, plot = null, outFolder } = plan;
  const wishes: Wish[] = [];
  if (midi !== null) wishes.push({ kind: 'midi', path: midi, makesFolder: false });
  if (musicXml !== null) wishes.push({ kind: 'musicxml', path: musicXml, makesFolder: false });
  if (pitchTrack !== null) wishes.push({ kind: 'pitch track', path: pitchTrack, makesFolder: false });
  if (sheet !== null) wishes.push({ kind: 'sheet', path: sheet, makesFolder: false });
  if (svg !== null) wishes.push({ kind: 'notation', path: svg, makesFolder: false });
  if (plot !== null) wishes.push({ kind: 'plot', path: plot, makesFolder: false });
  if (outFolder === null) return wishes;
  const inside = (kind: TargetKind, ending: string): Wish => ({
    kind,
    path: join(outFolder, `${name}${ending}`),
    makesFolder: true,
  });
  return [
    ...wishes,
    inside('list', '.notes'),
    inside('json', '.json'),
    inside('midi', '.mid'),
    inside('musicxml', '.musicxml'),
    inside('pitch track', '.pitch.csv'),
    inside('sheet', '.html'),
    inside('notation', '.svg'),
    inside('plot', '.plot.svg'),
  ];
}

/** The bytes of one result. A pitch track is only asked for where there is one. */
export async function contentOf(
  kind: MelodyKind,
  melody: Melody,
  track: PitchTrack | null,
  title: string,
  names: NameSystem,
): Promise<string | Uint8Array> {
  switch (kind) {
    case 'list':
      return noteList(melody, names);
    case 'json':
      return melodyJson(melody);
    case 'pitch track':
      return (await import('../write/plot/pitch-track.js')).pitchTrackCsv(track!);
    case 'musicxml':
      return (await import('../write/score/musicxml.js')).melodyMusicXml(melody, {
        title,
        key: melody.scales[0] ?? null,
        names,
      });
    case 'midi': {
      const [{ melodyMidi }, { isMinor, keySignature }] = await Promise.all([
        import('../write/midi/midi.js'),
        import('../theory/key-signature.js'),
      ]);
      const best = melody.scales[0];
      const key = best ? { fifths: keySignature(best), minor: isMinor(best.mode) } : null;
      return melodyMidi(melody, { title, key });
    }
  }
}

/** The melody as standard output wants it: JSON, laid out for a terminal, or the list. */
export async function printed(plan: WritingPlan, melody: Melody, { streams, env }: Context): Promise<string> {
  if (plan.print === 'json') return melodyJson(melody);
  if (plan.print === 'list' || streams.stdout.isTTY !== true) return noteList(melody, plan.names);
  const paint = await paintFor(streams.stdout, env);
  return screenLayout(melody, paint, {
    width: columnsOf(streams.stdout),
    names: plan.names,
  });
}
