/** Candidate scales for reading: each with what it holds, what would settle it, and its keys. */

import type { NameSystem } from '../../theory/name-systems.js';
import { keyNameIn, type Naming, nameIn } from '../../theory/naming.js';
import { heldNames, pitchClassNames } from '../../theory/pitch-names.js';
import { nameParts } from '../../theory/tonal-tables.js';
import type { Key, Mode, RankedScale } from '../../theory/types.js';
import { listed } from '../listed.js';
import { rounded } from '../numbers.js';
import { wrap } from '../screen/wrap.js';
import type { Paint } from '../types.js';
import { keyboardPicture } from './keyboard.js';
import { placesOf, stretchOf } from './places.js';
import type { ScalesSheet } from './types.js';

/** Scales of a region that are named: its likeliest rivals (our choice). */
const REGION_SCALES = 3;
/** Scales that lend each other their sixths and sevenths (common practice). */
const MINORS: readonly Mode[] = ['minor', 'harmonic minor', 'melodic minor'];
/** The keyboard and two columns before it. */
const PICTURE_WIDTH = 59;
const INDENT = '   ';
const HANGING = '     ';

export interface ScalesLook {
  readonly width: number;
  /** How many scales are told of. */
  readonly top: number;
  readonly names: NameSystem;
}

/**
 * The best scales, each in a paragraph, a picture of the best one on a keyboard, and where the key changes. Lines have
 * `width` columns at most; where the picture has no room it is left out. Ends with a newline.
 */
export function scalesText(sheet: ScalesSheet, paint: Paint, { width, top, names }: ScalesLook): string {
  const shown = sheet.scales.slice(0, top);
  const left = sheet.scales.slice(top).filter(({ place }) => place === shown.at(-1)?.place).length;
  const parts = shown.map((scale, i) => [
    paint.bold(title(scale, sheet.scales, names)),
    ...facts(scale, sheet, names).flatMap((fact) => wrap(fact, width, INDENT, HANGING)),
    ...doubts(scale, sheet, names).flatMap((doubt) =>
      wrap(doubt, width, INDENT, HANGING).map((text) => paint.warn(text)),
    ),
    ...(i === 0 && width >= PICTURE_WIDTH ? picture(scale, names, paint) : []),
  ]);
  if (left > 0) {
    parts.push(
      wrap(
        `${left} more ${left === 1 ? 'is' : 'are'} as likely as the last: --top ${top + left}`,
        width,
        '',
        '',
      ),
    );
  }
  parts.push(regions(sheet, paint, width, names));
  return `${parts
    .filter((part) => part.length > 0)
    .map((part) => part.join('\n'))
    .join('\n\n')}\n`;
}

/** Names of a scale's notes; degrees count from its own tonic. */
function namer(scale: Key, system: NameSystem): (name: string) => string {
  const naming = namingFor(scale, system);
  return (name) => nameIn(name, naming);
}

function namingFor({ tonic }: Key, system: NameSystem): Naming {
  return system === 'degrees' ? { system, home: { tonic, octave: 4 } } : { system };
}

function chance(score: number): string {
  return score > 0 && score < 0.005 ? 'less than 1 %' : `${rounded(100 * score, 0)} %`;
}

/** `1. F major (83 %)`, with `1=` where the notes cannot tell it from another. */
function title(scale: RankedScale, all: readonly RankedScale[], system: NameSystem): string {
  const tied = all.filter(({ place }) => place === scale.place).length > 1;
  return `${scale.place}${tied ? '=' : ''}. ${keyNameIn(scale, system)} (${chance(scale.score)})`;
}

function facts(scale: RankedScale, { notes, scales }: ScalesSheet, system: NameSystem): string[] {
  const named = namer(scale, system);
  const names = pitchClassNames(scale);
  const sung = new Set(notes.map(({ midi }) => names[((midi % 12) + 12) % 12]!));
  const held = scale.notes.filter((name) => sung.has(name)).map(named);
  const missing = scale.notes.filter((name) => !sung.has(name)).map(named);
  const outside = scale.outsideAt.map(({ name, numbers }) => `${named(name)}: ${placesOf(numbers, notes)}`);
  const unsung = missing.length === 0 ? '' : `; not sung: ${missing.join(' ')}`;
  return [
    `holds ${outside.length === 0 ? 'every note: ' : ''}${held.length === 0 ? 'none of the notes' : held.join(' ')}${unsung}`,
    ...(outside.length === 0 ? [] : [`does not hold ${outside.join('; ')}`]),
    ...lent(scale, system),
    ...sameNotes(scale, scales, system),
    ...deciders(scale, notes, system),
  ];
}

/** Notes outside a minor scale that are the sixth or seventh of another minor: no reason to doubt the tonic. */
function lent(scale: RankedScale, system: NameSystem): string[] {
  if (!MINORS.includes(scale.mode)) return [];
  const held = heldNames(scale);
  const names = scale.outside.filter((name) => held.includes(name)).map(namer(scale, system));
  if (names.length === 0) return [];
  const belong = names.length === 1 ? 'belongs' : 'belong';
  return [
    `${listed(names, 'and')} ${belong} to the other minor scales on the same tonic, which lend each other notes`,
  ];
}

/** The best other scale of the same notes: no note decides between the two. */
function sameNotes(scale: RankedScale, scales: readonly RankedScale[], system: NameSystem): string[] {
  const classes = ({ notes }: RankedScale) =>
    notes
      .map((name) => nameParts(name)!.pitchClass)
      .sort((a, b) => a - b)
      .join(' ');
  const twin = scales.find((other) => other !== scale && classes(other) === classes(scale));
  if (twin === undefined) return [];
  return [`the same notes as ${keyNameIn(twin, system)}: where the lines come to rest decides`];
}

/** The notes that tell a scale from its rival: for which of the two they speak, and where to listen for them. */
function deciders(scale: RankedScale, notes: ScalesSheet['notes'], system: NameSystem): string[] {
  const { rival, decidersAt } = scale;
  if (rival === null) return [];
  const other = keyNameIn(rival, system);
  const named = namer(scale, system);
  const party = (name: string) => (scale.notes.includes(name) ? 'it' : other);
  const sung = decidersAt
    .filter(({ numbers }) => numbers.length > 0)
    .map(({ name, numbers }) => `${named(name)} speaks for ${party(name)}: ${placesOf(numbers, notes)}`);
  const unsung = decidersAt
    .filter(({ numbers }) => numbers.length === 0)
    .map(({ name }) => `${named(name)} (for ${party(name)})`);
  return [
    `against ${other}: ${[...sung, ...(unsung.length === 0 ? [] : [`not sung: ${unsung.join(', ')}`])].join('; ')}`,
  ];
}

/** Notes outside the scale that may be mishearings, and what lies next to them. */
function doubts(scale: RankedScale, { notes }: ScalesSheet, system: NameSystem): string[] {
  const named = namer(scale, system);
  return scale.outsideAt
    .filter(({ doubtful }) => doubtful.length > 0)
    .map(({ name, doubtful, nextTo }) => {
      const near = `${listed(nextTo.map(named), 'and')} ${nextTo.length === 1 ? 'is' : 'are'} next to it in this scale`;
      return `${named(name)} may be a mishearing, check by ear: ${placesOf(doubtful, notes)}; ${near}`;
    });
}

function picture(scale: RankedScale, system: NameSystem, paint: Paint): string[] {
  const rows = keyboardPicture(scale.notes, namingFor(scale, system)).map((row) => `  ${row}`);
  return ['', ...rows, paint.dim('  * tonic; keys without a name are not in the scale')];
}

function regions({ regions, notes }: ScalesSheet, paint: Paint, width: number, system: NameSystem): string[] {
  if (regions.length < 2) return [];
  const texts = regions.map(({ first, last, scales }) => {
    const [best, ...others] = scales.slice(0, REGION_SCALES);
    const named = namer(best!, system);
    const outside =
      best!.outside.length === 0 ? '' : `, which does not hold ${listed(best!.outside.map(named), 'and')}`;
    const rest = others.map((scale) => `${keyNameIn(scale, system)} (${chance(scale.score)})`);
    return `${stretchOf(first, last, notes)}: ${keyNameIn(best!, system)} (${chance(best!.score)})${outside}; then ${rest.join(', ')}`;
  });
  return [paint.bold('the key changes'), ...texts.flatMap((text) => wrap(text, width, INDENT, HANGING))];
}
