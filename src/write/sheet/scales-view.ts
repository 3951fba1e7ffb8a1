/** The candidate scales as HTML, best first. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import type { RankedScale } from '../../theory/types.js';
import { namingOf } from '../naming-of.js';
import { scaleKeyboard } from './keyboard.js';
import { shownIn, shownKey } from './names.js';

/** Scales that are drawn: more are too unlikely to be worth a look. */
const SHOWN = 4;

export function scalesHtml(melody: Pick<Melody, 'notes' | 'scales'>, names: NameSystem): string {
  const shown = shownIn(namingOf(melody, names));
  return melody.scales
    .slice(0, SHOWN)
    .map((scale) => scaleItem(scale, names, shown))
    .join('');
}

function scaleItem(scale: RankedScale, names: NameSystem, shown: (name: string) => string): string {
  const name = shownKey(scale, names);
  const list = (notes: readonly string[]) => notes.map(shown).join(', ');
  const held =
    scale.outside.length === 0 ? 'Holds every note.' : `Does not hold ${list(scale.outside)} (crosses).`;
  const rival = scale.rival === null ? 'its nearest rival' : shownKey(scale.rival, names);
  const deciders =
    scale.deciders.length === 0
      ? ''
      : ` To tell it from ${rival}, listen for ${scale.deciders.map(shown).join(' or ')}.`;
  const words = `${name}: ${list(scale.notes)}, on one octave of the keyboard`;
  return `<li><h3>${name} <span class="share">${Math.round(100 * scale.score)} %</span></h3>${scaleKeyboard(scale, words, shown)}<p>${held}${deciders}</p></li>`;
}
