/** The line of a note list that says in which system its notes are named. */
import type { NameSystem } from '../../theory/name-systems.js';
import { nameSystemOf } from '../../theory/name-systems.js';
import { ENGLISH, type Naming } from '../../theory/naming.js';
import { parseNoteName } from '../../theory/pitch-names.js';
import { nameParts } from '../../theory/tonal-tables.js';
import { type Where, wrongField } from './note-list-field.js';

const KEY = 'names';

/** What a note looks like, for error messages. */
export const NOTE_WANTED: Readonly<Record<NameSystem, string>> = {
  english: 'a letter A to G, # or b where needed, and the octave, such as F#4 or Bb3',
  german: 'a letter A to H, is or es where needed, and the octave, such as Fis4 or B3',
  solfège: 'do re mi fa sol la or si, # or b where needed, and the octave, such as fa#4 or sib3',
  degrees: 'a degree 1 to 7, # or b before it where needed, and ↑ or ↓ an octave, such as b3 or 5↓',
};

/** `# names german`, `# names degrees F4`; no line for English. */
export function namesLines(naming: Naming): string[] {
  switch (naming.system) {
    case 'english':
      return [];
    case 'degrees':
      return [`# ${KEY} degrees ${naming.home.tonic}${naming.home.octave}`];
    default:
      return [`# ${KEY} ${naming.system}`];
  }
}

/** What a `# names` line says; null for any other line. Throws InputError where it names no system. */
export function readNames(line: string, where: Where): Naming | null {
  const [key, word = '', ...rest] = line.slice(1).trim().replace(/"$/, '').split(/\s+/);
  if (key !== KEY) return null;
  const system = nameSystemOf(word);
  if (system === null || rest.length > (system === 'degrees' ? 1 : 0)) {
    const wanted = 'english, german, solfège or degrees with their tonic (degrees F4)';
    throw wrongField(where, `# ${KEY}`, [word, ...rest].join(' '), wanted);
  }
  if (system === 'english') return ENGLISH;
  if (system !== 'degrees') return { system };
  const [, tonic = '', octave = ''] = /^(\D+?)(-?\d)$/.exec(rest[0] ?? '') ?? [];
  if (parseNoteName(`${tonic}${octave}`) === null || nameParts(tonic) === null) {
    throw wrongField(
      where,
      `# ${KEY} degrees`,
      rest.join(' '),
      'the tonic with its octave, such as F4 or Bb3',
    );
  }
  return { system, home: { tonic, octave: Number(octave) } };
}
