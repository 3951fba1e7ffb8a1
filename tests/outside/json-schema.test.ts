/**
 * An independent validator (ajv, JSON Schema draft 2020-12) holds the program's JSON against the committed
 * schema, and finds the mistakes that the schema promises to find.
 */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { melodyJson } from '../../src/write/json/json.js';
import { bareMelody, melodies, TWO_LINES } from '../write/melodies.js';

const schema = JSON.parse(readFileSync(new URL('../../docs/melody.schema.json', import.meta.url), 'utf8'));
const validate = new Ajv2020.default({ strict: true, allowUnionTypes: true, allErrors: true }).compile(
  schema,
);

const faults = (value: unknown) =>
  validate(value) ? [] : (validate.errors ?? []).map((error) => error.instancePath);

describe('docs/melody.schema.json', () => {
  test('holds what the program writes', () => {
    expect(faults(JSON.parse(melodyJson(TWO_LINES)))).toEqual([]);
    expect(faults(JSON.parse(melodyJson(bareMelody([]))))).toEqual([]);
    fc.assert(
      fc.property(melodies, (melody) => {
        expect(faults(JSON.parse(melodyJson(melody)))).toEqual([]);
      }),
    );
  });

  test.each([
    ['"format": "cantilena-melody"', '"format": "x"', '/format'],
    ['"midi":69', '"midi":69.5', '/notes/1/midi'],
    ['"midi":69', '"midi":128', '/notes/1/midi'],
    ['"finger":3', '"finger":6', '/notes/1/finger'],
    ['"confidence":0.55', '"confidence":1.01', '/notes/1/confidence'],
    ['"name":"A4"', '"name":"H4"', '/notes/1/name'],
    ['"name":"A4",', '', '/notes/1'],
    ['"start":1,', '"start":-1,', '/notes/1/start'],
    ['"mode":"major"', '"mode":"ionian"', '/scales/0/mode'],
    ['"outside":["Bb"]', '"outside":["Bb4"]', '/scales/1/outside/0'],
  ])('finds %s replaced by %s', (right, wrong, where) => {
    expect(faults(JSON.parse(melodyJson(TWO_LINES).replace(right, wrong)))).toEqual([where]);
  });

  test('describes every field, with its unit', () => {
    const bare: string[] = [];
    const walk = (node: Record<string, unknown>, path: string) => {
      for (const [name, child] of Object.entries((node.properties ?? {}) as Record<string, never>)) {
        const { description, properties } = child as { description?: string; properties?: unknown };
        if (!description && !properties) bare.push(`${path}/${name}`);
        walk(child, `${path}/${name}`);
      }
      if (node.items) walk(node.items as Record<string, unknown>, `${path}[]`);
    };
    walk(schema, '');
    expect(bare).toEqual([]);
  });
});
