/** Values of options: what is read, and as what. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseKey, parsePitchLimit } from '../../src/cli/pitch-values.js';
import { oneOf, parseBpm, parseMeter, parsePath, parseTime } from '../../src/cli/values.js';
import { UsageError } from '../../src/errors.js';

type Parser = (option: string, text: string) => unknown;

const READ: [string, Parser, [string, unknown][]][] = [
  // biome-ignore format: a table
  ['a time', parseTime, [['0', 0], ['83', 83], ['83.25', 83.25], ['1:23.5', 83.5], ['0:05', 5], ['90:00', 5400], ['1:02:03', 3723]]],
  [
    'a tempo',
    parseBpm,
    [
      ['4', 4],
      ['92.5', 92.5],
      ['1000', 1000],
    ],
  ],
  [
    'a meter',
    parseMeter,
    [
      ['3', { beatsPerBar: 3, beatUnit: 4 }],
      ['3/4', { beatsPerBar: 3, beatUnit: 4 }],
      ['6/8', { beatsPerBar: 6, beatUnit: 8 }],
      ['7/8', { beatsPerBar: 7, beatUnit: 8 }],
      ['2/2', { beatsPerBar: 4, beatUnit: 4 }],
      ['64', { beatsPerBar: 64, beatUnit: 4 }],
    ],
  ],
  [
    'a word',
    oneOf(['small', 'large']),
    [
      ['small', 'small'],
      ['LARGE', 'large'],
    ],
  ],
  [
    'a name of a file',
    parsePath,
    [
      ['a b.mid', 'a b.mid'],
      ['./-x', './-x'],
    ],
  ],
  // 440 Hz is A4, MIDI 69; an octave lower is 57.
  [
    'a limit of pitch',
    parsePitchLimit,
    [
      ['E2', 40],
      ['bb3', 58],
      ['C♯4', 61],
      ['440Hz', 69],
      ['220 hz', 57],
    ],
  ],
  [
    'a key',
    parseKey,
    [
      ['F# minor', { tonic: 'F#', mode: 'minor' }],
      ['bb', { tonic: 'Bb', mode: 'major' }],
    ],
  ],
];

const REFUSED: [string, Parser, string[]][] = [
  ['a time', parseTime, ['', '-1', '1:60', '1:2:3:4', '1:60:00', 'a', '1e3', ' 5', '1:', '.5', '12,5']],
  ['a tempo', parseBpm, ['', '0', '3.9', '1001', 'NaN', 'Infinity', '-90', '9e1', '0x50']],
  ['a meter', parseMeter, ['', '0', '3/0', '3/3', '1/8', '65', '3.5', '/4', '-3']],
  ['a word', oneOf(['small', 'large']), ['', 'tiny', 'smal']],
  ['a name of a file', parsePath, ['', '-', '--json']],
  ['a limit of pitch', parsePitchLimit, ['', 'E', '90', 'H2', '0Hz', 'Hz', '-5Hz', 'E12']],
  ['a key', parseKey, ['', 'H', 'A weird', '#']],
];

describe('values that are read', () => {
  test.each(READ)('%s', (_, parse, pairs) => {
    for (const [text, value] of pairs) expect(parse('--x', text), text).toEqual(value);
  });

  test('any time written in minutes and seconds', () => {
    fc.assert(
      fc.property(fc.nat(10_000), fc.nat(599), (minutes, tenths) => {
        const text = `${minutes}:${(tenths / 10).toFixed(1)}`;
        expect(parseTime('--x', text)).toBeCloseTo(60 * minutes + tenths / 10, 9);
      }),
    );
  });
});

describe('values that are refused, with the option and an example that is read', () => {
  test.each(REFUSED)('%s', (_, parse, texts) => {
    for (const text of texts) {
      expect(() => parse('--x', text), text).toThrow(UsageError);
      expect(() => parse('--x', text), text).toThrow(/--x /);
    }
  });

  test('the examples', () => {
    for (const [, parse] of REFUSED.filter(([, parser]) => parser !== parsePath)) {
      let message = '';
      try {
        parse('--x', '?');
      } catch (error) {
        message = (error as Error).message;
      }
      const example = /as in --x "?([^".]+(?:\.\d)?)"?( or .*)?\.$/.exec(message)![1]!.split(' or ')[0]!;
      expect(() => parse('--x', example), message).not.toThrow();
    }
  });
});
