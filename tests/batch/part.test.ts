import { writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { parsePart, partOf } from '../../src/batch/part.js';
import { UsageError } from '../../src/errors.js';
import { makeFolder } from './folder.js';

const folder = makeFolder();
afterAll(folder.remove);

describe('which machine hears a song', () => {
  test('every song has one part, told by its content and not by its name', async () => {
    const counts = [0, 0, 0, 0];
    for (let i = 0; i < 200; i++) {
      const path = folder.at(`song-${i}`);
      writeFileSync(path, `content ${i}`);
      const part = await partOf({ path, name: `song ${i}` }, 4);
      counts[part - 1]!++;
      writeFileSync(folder.at('copy'), `content ${i}`);
      expect(await partOf({ path: folder.at('copy'), name: 'copy' }, 4)).toBe(part);
    }
    // 50 each on average; fewer than 25 has odds of one in a hundred thousand (binomial).
    for (const count of counts) expect(count).toBeGreaterThan(25);
  });

  test('what cannot be read is reported by the first', async () => {
    expect(await partOf({ path: folder.at('gone'), name: 'gone' }, 8)).toBe(1);
  });
});

describe('--part', () => {
  test.each([
    ['2/8', {}, 2, 8],
    ['8/8', {}, 8, 8],
    ['auto', { SLURM_ARRAY_TASK_ID: '7', SLURM_ARRAY_TASK_MIN: '5', SLURM_ARRAY_TASK_COUNT: '4' }, 3, 4],
    ['auto/4', { SLURM_ARRAY_TASK_ID: '1' }, 1, 4],
    ['auto/4', { JOB_COMPLETION_INDEX: '0' }, 1, 4],
    ['auto/4', { JOB_COMPLETION_INDEX: '3' }, 4, 4],
    ['auto/9', { SGE_TASK_ID: '9', SGE_TASK_FIRST: '1' }, 9, 9],
    // Grid Engine says "undefined" where there is no array.
    ['auto/9', { SGE_TASK_ID: 'undefined', PBS_ARRAY_INDEX: '2' }, 2, 9],
    ['auto/3', { LSB_JOBINDEX: '3' }, 3, 3],
  ])('%s with %o is part %i of %i', (text, env, index, count) => {
    expect(parsePart('--part', text, env)).toEqual({ index, count });
  });

  test.each([
    ['', {}],
    ['2', {}],
    ['0/8', {}],
    ['9/8', {}],
    ['a/b', {}],
    ['auto', {}],
    ['auto', { JOB_COMPLETION_INDEX: '0' }],
    ['auto/2', { JOB_COMPLETION_INDEX: '2' }],
  ])('"%s" with %o is refused', (text, env) => {
    expect(() => parsePart('--part', text, env)).toThrow(UsageError);
  });
});
