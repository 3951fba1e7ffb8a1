/** The candidate scales as HTML, best first. */
import type { RankedScale } from '../../theory/types.js';
import { scaleKeyboard } from './keyboard.js';
import { withSigns } from './names.js';

/** Scales that are drawn: more are too unlikely to be worth a look. */
const SHOWN = 4;

export function scalesHtml(scales: readonly RankedScale[]): string {
  return scales.slice(0, SHOWN).map(scaleItem).join('');
}

function scaleItem(scale: RankedScale): string {
  const name = `${withSigns(scale.tonic)} ${scale.mode}`;
  const list = (names: readonly string[]) => names.map(withSigns).join(', ');
  const notes = `notes ${list(scale.notes)}`;
  const held =
    scale.outside.length === 0 ? 'Holds every note.' : `Does not hold ${list(scale.outside)} (crosses).`;
  const deciders =
    scale.deciders.length === 0
      ? ''
      : ` To tell it from ${rivalName(scale)}, listen for ${scale.deciders.map(withSigns).join(' or ')}.`;
  return `<li><h3>${name} <span class="share">${Math.round(100 * scale.score)} %</span></h3>${scaleKeyboard(scale, `${name}: ${notes}, on one octave of the keyboard`)}<p>${held}${deciders}</p></li>`;
}

function rivalName({ rival }: RankedScale): string {
  return rival === null ? 'its nearest rival' : `${withSigns(rival.tonic)} ${rival.mode}`;
}
