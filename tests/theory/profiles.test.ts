import { expect, test } from 'vitest';
import { modeProfile } from '../../src/theory/profiles.js';
import { MODES, modeSemitones } from '../../src/theory/tonal-tables.js';

test.each(MODES)('%s: every note of the mode outweighs every note outside it', (mode) => {
  const profile = modeProfile(mode);
  const held = new Set(modeSemitones(mode));
  const inside = profile.filter((_, degree) => held.has(degree));
  const outside = profile.filter((_, degree) => !held.has(degree));
  expect(Math.min(...inside)).toBeGreaterThan(Math.max(...outside));
});
