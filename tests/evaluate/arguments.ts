/** What `npm run evaluate` was asked for. */
import { parseArgs } from 'node:util';
import { type Choice, GROUPS, groupsNamed } from './cases.js';

export const USAGE =
  'npm run evaluate -- DIR [--only singing,made,ssvd,vocadito,sung,piano,mix] [--half a|b] [--files PART] [--json]';

export interface EvaluateRequest {
  readonly root: string;
  readonly choice: Choice;
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
  const { half } = values;
  if (half !== undefined && half !== 'a' && half !== 'b') throw new Error(`--half is a or b, not ${half}.`);
  return {
    root,
    choice: {
      groups: groups ?? GROUPS,
      half: half ?? null,
      name: values.files,
    },
    json: values.json,
  };
}
