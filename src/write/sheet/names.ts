/** Names and words as the page prints them. */

import type { NameSystem } from '../../theory/name-systems.js';
import { keyNameIn, type Naming, nameIn } from '../../theory/naming.js';
import type { Key } from '../../theory/types.js';

/** `Bb4` as B♭4. */
export function withSigns(name: string): string {
  return name.replace(/^([A-G])(#+|b+)/, (_, letter: string, accidentals: string) => {
    return letter + accidentals.replaceAll('#', '♯').replaceAll('b', '♭');
  });
}

/** An ASCII name as it is shown: English ones with their signs, others as their system has them. */
export function shownIn(naming: Naming): (name: string) => string {
  return naming.system === 'english' ? withSigns : (name) => escaped(nameIn(name, naming));
}

/** A key's name: `B♭ major`; degrees have none of their own and take the English one. */
export function shownKey(key: Key, names: NameSystem): string {
  return names === 'english' || names === 'degrees'
    ? `${withSigns(key.tonic)} ${key.mode}`
    : escaped(keyNameIn(key, names));
}

/** A name without its octave: `Bb4` gives `Bb`. */
export function withoutOctave(name: string): string {
  return name.replace(/-?\d+$/, '');
}

/** Minutes and seconds: 1:05. */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/**
 * Control characters and halves of pairs, which mean nothing in a title, and marks that turn the direction of writing.
 */
const HIDDEN = /[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]+/gu;

/** Text that comes from outside, for markup and for attributes in double quotes. */
export function escaped(text: string): string {
  return text
    .replace(HIDDEN, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}
