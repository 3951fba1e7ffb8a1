/** What `npm run evaluate` was asked for. */
import { parseArgs } from 'node:util';
import type { HearRequest } from '../../src/pipeline/options.js';
import { type Choice, GROUPS, groupsNamed } from './cases.js';

export const USAGE =
  'npm run evaluate -- DIR [--only singing,made,ssvd,vocadito,sung,piano,mix] [--half a|b] [--files PART] [--source auto|solo|mix] [--json]';

export interface EvaluateRequest {
  readonly root: string;
  readonly choice: Choice;
  /** How every recording is heard; null: as what it is. */
  readonly source: HearRequest['source'] | null;
  readonly json: boolean;
}

/** Throws an Error with one sentence for a request that cannot be met. */
export function parseRequest(argv: readonly string[]): EvaluateRequest {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      only: { type: 'string' },
      half: { type: 'string' },
      files: { type: 'string', default: '' },
      source: { type: 'string' },
      json: { type: 'boolean', default: false },
    },
  });
  const [root] = positionals;
  if (root === undefined || positionals.length > 1) throw new Error(`Give one folder: ${USAGE}`);
  const groups = values.only?.split(',').flatMap((word) => {
    const named = groupsNamed(word);
    if (named.length === 0) throw new Error(`--only ${word} names nothing; use ${GROUPS.join(', ')}.`);
    return named;
  });
  const { half, source } = values;
  if (half !== undefined && half !== 'a' && half !== 'b') throw new Error(`--half is a or b, not ${half}.`);
  if (source !== undefined && source !== 'auto' && source !== 'solo' && source !== 'mix') {
    throw new Error(`--source is auto, solo or mix, not ${source}.`);
  }
  return {
    root,
    choice: {
      groups: groups ?? GROUPS,
      half: half ?? null,
      name: values.files,
    },
    source: source ?? null,
    json: values.json,
  };
}
