import { describe, expect, test } from 'vitest';
import { UsageError } from '../../src/errors.js';
import {
  checkHearOptions,
  checkHearRequest,
  defaultHearOptions,
  hearOptionsFor,
} from '../../src/pipeline/options.js';
import { midiToHz } from '../../src/units.js';

const DEFAULTS = defaultHearOptions('solo');

describe('defaultHearOptions', () => {
  test('one voice alone, from 55 to 1500 Hz', () => {
    expect(DEFAULTS.source).toBe('solo');
    expect(midiToHz(DEFAULTS.lowestMidi)).toBeCloseTo(55, 6);
    expect(Math.abs(midiToHz(DEFAULTS.highestMidi) - 1500)).toBeLessThan(5);
  });

  test('they pass their own check', () => {
    expect(checkHearOptions(DEFAULTS)).toEqual(DEFAULTS);
  });

  test('each call gives an object of its own', () => {
    expect(defaultHearOptions('solo')).not.toBe(DEFAULTS);
    expect(defaultHearOptions('solo')).toEqual(DEFAULTS);
  });
});

describe('checkHearOptions', () => {
  // E1 is 41.20 Hz and Eb1 38.89 Hz, B7 3951.07 Hz and C8 4186.01 Hz (handbook, from memory); MIDI 28, 27, 107, 108.
  test('E1 and B7, which the messages offer, pass', () => {
    const widest = { ...DEFAULTS, lowestMidi: 28, highestMidi: 107 };
    expect(checkHearOptions(widest)).toEqual(widest);
  });

  test.each([
    ['Eb1 is too low', { lowestMidi: 27 }, /^--lowest .* E1 /],
    ['C8 is too high', { highestMidi: 108 }, /^--highest .* B7 /],
    ['three semitones are too few', { lowestMidi: 60, highestMidi: 63 }, /at least four semitones/],
    ['the lowest above the highest', { lowestMidi: 72, highestMidi: 60 }, /at least four semitones/],
  ])('%s: a UsageError with exit status 2 that says what would work', (_, wrong, message) => {
    const check = () => checkHearOptions({ ...DEFAULTS, ...wrong });
    expect(check).toThrow(UsageError);
    expect(check).toThrow(message);
    expect(check).toThrow(expect.objectContaining({ code: 'usage', exitStatus: 2 }));
  });

  test('four semitones are enough', () => {
    expect(() => checkHearOptions({ ...DEFAULTS, lowestMidi: 60, highestMidi: 64 })).not.toThrow();
  });
});

describe('what was asked for', () => {
  const auto = { source: 'auto', lowestMidi: null, highestMidi: null } as const;

  test('takes the range of the source where none was given', () => {
    expect(hearOptionsFor(auto, 'solo')).toEqual(defaultHearOptions('solo'));
    expect(hearOptionsFor(auto, 'mix')).toEqual(defaultHearOptions('mix'));
    expect(hearOptionsFor({ ...auto, lowestMidi: 50 }, 'mix')).toEqual({
      source: 'mix',
      lowestMidi: 50,
      highestMidi: defaultHearOptions('mix').highestMidi,
    });
  });

  test('is checked before anything is heard', () => {
    expect(checkHearRequest(auto)).toEqual(auto);
    expect(() => checkHearRequest({ ...auto, lowestMidi: 27 })).toThrow(/^--lowest /);
    expect(() => checkHearRequest({ ...auto, lowestMidi: 60, highestMidi: 62 })).toThrow(/at least four/);
    // C6 and up is a range for a solo only.
    expect(() => checkHearRequest({ ...auto, lowestMidi: 84 })).not.toThrow();
    expect(() => checkHearRequest({ ...auto, source: 'mix', lowestMidi: 84 })).toThrow(/at least four/);
  });
});
