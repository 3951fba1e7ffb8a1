import fc from 'fast-check';
import { expect, test } from 'vitest';
import { confidenceOf, type NoteEvidence } from '../../src/notes/confidence.js';

const share = fc.double({ min: 0, max: 1, noNaN: true });
const evidence: fc.Arbitrary<NoteEvidence> = fc.record({
  keyProbability: share,
  onset: share,
  sounding: share,
  seconds: fc.double({ min: 0.01, max: 20, noNaN: true }),
  spreadSemitones: fc.double({ min: 0, max: 12, noNaN: true }),
});

test('whatever the evidence, the confidence is a probability', () => {
  fc.assert(
    fc.property(evidence, (e) => {
      const confidence = confidenceOf(e);
      expect(confidence).toBeGreaterThanOrEqual(0);
      expect(confidence).toBeLessThanOrEqual(1);
    }),
  );
});

test('a surer key never makes a note less sure, and makes it surer over the whole range', () => {
  fc.assert(
    fc.property(evidence, share, share, (e, p, q) => {
      const [less, more] = [Math.min(p, q), Math.max(p, q)];
      expect(confidenceOf({ ...e, keyProbability: more })).toBeGreaterThanOrEqual(
        confidenceOf({ ...e, keyProbability: less }),
      );
    }),
  );
  const plain = { onset: 0.9, sounding: 0.9, voiced: 0.9, seconds: 0.5, spreadSemitones: 0.1 };
  expect(confidenceOf({ ...plain, keyProbability: 0.97 })).toBeGreaterThan(
    confidenceOf({ ...plain, keyProbability: 0.5 }),
  );
});
