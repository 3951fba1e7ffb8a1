/**
 * `npx tsx tests/evaluate/beats/main-fit.ts DIR`: fits the weights of src/rhythm/band/choice.ts on the recordings of
 * a folder with known beats and prints them, with the beat F that they give there.
 */
import { readFileSync } from 'node:fs';
import { decodeRecording } from '../../../src/audio/decode.js';
import { frameToSeconds } from '../../../src/dsp/frame-grid.js';
import { beatCandidates } from '../../../src/rhythm/band/band-beats.js';
import { findBeatCases } from './beat-cases.js';
import { scoreBeats } from './beat-scores.js';
import { fitWeights, type JudgedCandidate } from './fit.js';

const songs: JudgedCandidate[][] = [];
for (const { path, beats } of findBeatCases(process.argv[2] ?? '')) {
  const { samples, sampleRate } = await decodeRecording(readFileSync(path), path);
  const { grid, candidates } = beatCandidates(samples, sampleRate);
  const judged = candidates.map(({ frames, marks }) => {
    const heard = frames.map((frame) => frameToSeconds(grid, frame));
    return { marks, f: scoreBeats(beats, heard).f };
  });
  if (judged.length > 0) songs.push(judged);
}
if (songs.length === 0) {
  console.error('There is no recording with known beats in that folder.');
  process.exitCode = 2;
} else {
  const weights = fitWeights(songs);
  const total = songs.reduce((sum, song) => {
    const score = (c: JudgedCandidate) =>
      Object.entries(c.marks).reduce(
        (s, [name, mark]) => s + weights[name as keyof typeof weights] * mark,
        0,
      );
    return sum + song.reduce((best, c) => (score(c) > score(best) ? c : best)).f;
  }, 0);
  console.log(weights, `F ${(total / songs.length).toFixed(3)} over ${songs.length}`);
}
