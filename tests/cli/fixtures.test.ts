/** The melodies of fixtures/, from recording to JSON, against what is truly in them. */
import { readdirSync, readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import type { Truth } from '../../fixtures/maker/truth.js';
import type { MelodyJson } from '../../src/write/json/schema.js';
import { fixture, inProcess, ROOT } from './run.js';

const RECORDINGS = readdirSync(fixture('')).filter((name) => /\.(wav|mp3|flac|ogg|opus|m4a)$/.test(name));

const schema = JSON.parse(readFileSync(`${ROOT}/docs/melody.schema.json`, 'utf8'));
const validate = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(schema);

/** A note is found when one of its key starts within this of it, in seconds. */
const NEAR_SECONDS = 0.08;
/** The share of notes that must be found: a margin under what is found today, which is 0.93 and more. */
const LEAST_FOUND = 0.8;
const LEAST_FOUND_OF: Readonly<Record<string, number>> = {
  // Twelve of fourteen today: whistling slides into its notes, and the breath between two of one key is short.
  'whistled-brother-john.mp3': 0.7,
};
/** Cents that the tuning may be off: singers drift by 15, and the whistle slides into every note. */
const TUNING_CENTS = 12;

/** Share of the truth's notes that are found, each heard note counting once. */
function shareFound(truth: Truth, heard: MelodyJson): number {
  const left = [...heard.notes];
  const found = truth.notes.filter(({ midi, start }) => {
    const index = left.findIndex(
      (note) => note.midi === midi && Math.abs(note.start - start) <= NEAR_SECONDS,
    );
    if (index >= 0) left.splice(index, 1);
    return index >= 0;
  });
  return found.length / truth.notes.length;
}

describe('the recordings of fixtures/', () => {
  test('are there', () => expect(RECORDINGS.length).toBeGreaterThanOrEqual(8));

  test.each(RECORDINGS)('%s', async (name) => {
    const run = await inProcess([fixture(name), '--json']);
    expect(run.status).toBe(0);
    const heard = JSON.parse(run.stdout) as MelodyJson;
    expect(validate(heard), JSON.stringify(validate.errors)).toBe(true);
    const truth = JSON.parse(readFileSync(fixture(name.replace(/\.\w+$/, '.truth.json')), 'utf8')) as Truth;
    expect(shareFound(truth, heard)).toBeGreaterThanOrEqual(LEAST_FOUND_OF[name] ?? LEAST_FOUND);
    // Nor may it find them by hearing notes everywhere.
    expect(heard.notes.length).toBeLessThanOrEqual(truth.notes.length / LEAST_FOUND);
    expect(Math.abs(heard.tuningCents - truth.tuningCents)).toBeLessThan(TUNING_CENTS);
  });
});
