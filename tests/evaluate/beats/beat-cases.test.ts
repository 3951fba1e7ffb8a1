import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { findBeatCases, readBeats } from './beat-cases.js';
import { beatsReport } from './beats-report.js';

test('a beat every 60 / bpm seconds from the first until the last note ends', () => {
  const text = JSON.stringify({
    kind: 'sung',
    bpm: 120,
    firstBeat: 0.5,
    notes: [{ off: 1.2 }, { off: 2.4 }],
  });
  expect(readBeats(text, 'x')).toEqual({ kind: 'sung', bpm: 120, beats: [0.5, 1, 1.5, 2] });
});

test('beats that are written down win; a file without any is an error that names it', () => {
  expect(readBeats(JSON.stringify({ bpm: 90, beats: [1, 2] }), 'x').beats).toEqual([1, 2]);
  expect(() => readBeats(JSON.stringify({ bpm: 90 }), 'x.json')).toThrow('x.json: there are neither beats');
  expect(() => readBeats('{}', 'x.json')).toThrow('x.json: there is no bpm');
});

test('recordings are found by their truth; a folder that is not there has none', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'beats-'));
  try {
    writeFileSync(join(folder, 'b.truth.json'), JSON.stringify({ bpm: 90, beats: [1] }));
    writeFileSync(join(folder, 'b.flac'), '');
    writeFileSync(join(folder, 'a.truth.json'), JSON.stringify({ bpm: 90, beats: [1] }));
    expect(findBeatCases(folder).map(({ name }) => name)).toEqual(['b']);
    expect(findBeatCases(join(folder, 'no'))).toEqual([]);
    expect(await beatsReport(folder)).toBeNull();
  } finally {
    rmSync(folder, { recursive: true });
  }
});
