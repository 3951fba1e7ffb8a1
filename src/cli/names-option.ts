/** The option that says in which system notes are named. */
import type { Option } from 'commander';
import { NAME_SYSTEMS, type NameSystem, nameSystemOf } from '../theory/name-systems.js';
import { listed } from '../write/listed.js';
import { taking } from './command.js';
import { wrongValue } from './values.js';

export function namesOption(): Option {
  return taking(
    '--names <system>',
    `names of notes: ${NAME_SYSTEMS.join(', ')} (default: english)`,
    Object.assign(parseNames, { choices: NAME_SYSTEMS }),
  );
}

function parseNames(option: string, text: string): NameSystem {
  const system = nameSystemOf(text);
  if (system === null) throw wrongValue(option, text, listed(NAME_SYSTEMS, 'or'), 'german');
  return system;
}
