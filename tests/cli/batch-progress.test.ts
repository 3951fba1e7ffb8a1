/** How far a batch is, as a person sees it. */
import { Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { createProgress } from '../../src/cli/batch-progress.js';
import { createSpeech } from '../../src/cli/say.js';

/** Both outputs are a terminal of so many columns; gives back what is drawn on standard error. */
async function drawn(columns: number, name: string): Promise<string[]> {
  const parts: string[] = [];
  const output = () =>
    Object.assign(
      new Writable({
        write(part: Buffer, _encoding, done) {
          parts.push(part.toString());
          done();
        },
      }),
      { isTTY: true, columns },
    );
  const surroundings = {
    env: { TERM: 'xterm' },
    streams: { stdin: process.stdin, stdout: output(), stderr: output() },
  };
  const progress = createProgress(12, createSpeech(surroundings, false), surroundings, false);
  await progress.begin(name);
  await progress.finish();
  return parts;
}

test('a long name loses its start, so that the line fits and tells which song it is', async () => {
  const [line] = await drawn(40, 'a folder with a long name/evening/the third song.m4a');
  expect(line).toBe('0 of 12 · …e/evening/the third song.m4a');
  const [cut] = await drawn(40, 'a folder with a long name/evening in the garden, the third song.m4a');
  expect(cut).toMatch(/^0 of 12 · ….*the third song\.m4a$/);
  expect(cut).toHaveLength(39);
});

test('a short one is shown whole, and what is drawn is wiped away', async () => {
  expect(await drawn(40, 'one.wav')).toEqual(['0 of 12 · one.wav', '\r\x1b[K']);
});
