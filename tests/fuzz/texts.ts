/** Note lists, JSON and MIDI that are nearly right. */
import fc from 'fast-check';
import type { Random } from '../../fixtures/maker/random.js';
import { below, type Mutation } from './mutate.js';

/** What stands where a number, a name or a mark is expected. */
const WORDS = [
  '',
  '-',
  'NaN',
  'Infinity',
  '-Infinity',
  '1e308',
  '-1e308',
  '1e-320',
  '999999999999999999999999',
  '0x10',
  '1,5',
  '-0',
  '.5',
  '5.',
  'null',
  'true',
  '"',
  '\\u0000',
  '\u0000',
  '\uFEFF',
  '\u001b[31m',
  '\u202e',
  '\u2028',
  '\r',
  '\n',
  '\t',
  'C4',
  'H#-1',
  'Cb-1',
  'G##9',
  '𝄞',
  '\ud800',
  '__proto__',
  '9'.repeat(400),
  'x'.repeat(5000),
];

/** Changes fields between tabs, lines and characters of a text. */
export const textDamage: Mutation = (bytes, random) => {
  let text = Buffer.from(bytes).toString('utf8');
  for (let left = 1 + below(random, 4); left > 0; left--) {
    const pieces = text.split(/(\t|\n|,|:|\s)/);
    const at = below(random, pieces.length);
    switch (below(random, 6)) {
      case 0:
        pieces.splice(at, 1);
        break;
      case 1:
        pieces.splice(at, 0, random.pick(pieces), random.pick(['\t', '\n', ' ']));
        break;
      case 2:
        pieces.length = at;
        break;
      default:
        pieces[at] = random.pick(WORDS);
    }
    text = pieces.join('');
  }
  return Buffer.from(text, 'utf8');
};

/** Changes values in a JSON text, adds and removes fields, and nests deeply. */
export const jsonDamage: Mutation = (bytes, random) => {
  if (random.chance(0.05)) {
    const depth = 10 ** (1 + below(random, 5));
    return Buffer.from(`${random.pick(['[', '{"a":'])}`.repeat(depth));
  }
  const json = parsed(bytes);
  if (json === null) return textDamage(bytes, random);
  for (let left = 1 + below(random, 3); left > 0; left--) change(json, random);
  return Buffer.from(random.chance(0.1) ? `\uFEFF${JSON.stringify(json)}` : JSON.stringify(json));
};

/** Null for what is no JSON (any more), or no object. */
function parsed(bytes: Uint8Array): object | null {
  try {
    const json: unknown = JSON.parse(Buffer.from(bytes).toString('utf8'));
    return typeof json === 'object' ? json : null;
  } catch {
    return null;
  }
}

function change(value: unknown, random: Random): void {
  if (typeof value !== 'object' || value === null) return;
  const fields = value as Record<string, unknown>;
  const key = random.pick(Object.keys(fields));
  if (key === undefined) return;
  const inner = fields[key];
  if (typeof inner === 'object' && inner !== null && random.chance(0.85)) change(inner, random);
  else if (random.chance(0.15)) delete fields[key];
  else if (typeof inner === 'number' && random.chance(0.5)) fields[key] = random.pick(NUMBERS);
  else fields[key] = fc.sample(fc.jsonValue(), { seed: below(random, 2 ** 31), numRuns: 1 })[0];
}

const NUMBERS = [0, -0, -1, 1, 127, 128, 0.5, 1e9, 1e15, 1e300, Number.MAX_VALUE, -1e300, 5e-324, 2 ** 53];

const field = fc.oneof(
  fc.constantFrom('-', '1', '2', '0.5', 'C4', 'F#5', '0', '0.9', '3!', 'or D4', ...WORDS),
  fc.double().map(String),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
);
const row = fc.array(field, { minLength: 6, maxLength: 12 }).map((fields) => fields.join('\t'));
const fact = fc
  .tuple(
    fc.constantFrom('seconds', 'tuning-cents', 'tempo-bpm', 'beats-per-bar', 'beat-seconds', 'names'),
    field,
  )
  .map(([key, value]) => `# ${key} ${value}`);

/** Lists of arbitrary rows under arbitrary facts. */
export const arbitraryList: Mutation = (_bytes, random) => {
  const lines = fc.array(fc.oneof(row, row, fact), { maxLength: 30 });
  const [some = []] = fc.sample(lines, { seed: below(random, 2 ** 31), numRuns: 1 });
  return Buffer.from(['# cantilena note list 1', ...some].join('\n'));
};

/** JSON of any shape. */
export const arbitraryJson: Mutation = (_bytes, random) => {
  const [text = ''] = fc.sample(fc.json(), { seed: below(random, 2 ** 31), numRuns: 1 });
  return Buffer.from(random.chance(0.5) ? `{"format":"cantilena-melody","version":1,"notes":${text}}` : text);
};

const u32 = (value: number) => [24, 16, 8, 0].map((shift) => (value >>> shift) & 255);

/** MIDI of one track whose events are arbitrary, its length right. */
export const arbitraryMidi: Mutation = (_bytes, random) => {
  const delta = () =>
    random.pick([[0], [0x60], [0x83, 0x60], [0xff, 0xff, 0xff, 0x7f], [0xff, 0xff, 0xff, 0xff, 0x7f]]);
  const event = () =>
    random.pick([
      [0x90, below(random, 128), below(random, 128)],
      [0x90, 60, 80],
      [0x80, 60, 0],
      [0xff, 0x51, 3, below(random, 256), below(random, 256), below(random, 256)],
      [0xff, 0x58, 4, below(random, 256), random.pick([0, 2, 3, 31, 255]), 24, 8],
      [
        0xff,
        random.pick([1, 3, 6, 0x54, 0x59, 0x7f]),
        below(random, 4),
        below(random, 256),
        below(random, 256),
      ],
      [0xf0, below(random, 8), 0xf7],
      [below(random, 256), below(random, 256)],
    ]);
  const events = Array.from({ length: below(random, 60) }, () => [...delta(), ...event()]).flat();
  const track = [...events, 0, 0xff, 0x2f, 0];
  const division = random.pick([0x01e0, 1, 0x7fff, 0xe728, 0x8000, 0]);
  const head = [
    ...Buffer.from('MThd'),
    ...u32(6),
    0,
    random.pick([0, 1, 2]),
    0,
    random.pick([1, 1, 1, 2, 255]),
  ];
  return Uint8Array.from([
    ...head,
    division >> 8,
    division & 255,
    ...Buffer.from('MTrk'),
    ...u32(track.length),
    ...track,
  ]);
};
