/** Tries the cases that the parent process asks for, one at a time. */
import { readBases } from './bases.js';
import { caseBytes, outcomeOf } from './paths.js';
import type { Answer, Ask } from './protocol.js';

const bases = readBases(process.argv[2] === 'quick');

const megabytes = (bytes: number) => bytes / 1e6;

function resident(): number {
  // Twice, as the first frees what the finalisers of the second let go of.
  for (let i = 0; i < 2; i++) globalThis.gc?.();
  return megabytes(process.memoryUsage.rss());
}

process.on('message', async ({ path, seed, settle }: Ask) => {
  const begun = process.cpuUsage();
  const wrong = await outcomeOf(path, caseBytes(path, seed, bases));
  const { user, system } = process.cpuUsage(begun);
  const answer: Answer = {
    wrong,
    cpuSeconds: (user + system) / 1e6,
    // Kibibytes, by the system's own high-water mark.
    peakMegabytes: megabytes(process.resourceUsage().maxRSS * 1024),
    residentMegabytes: settle ? resident() : null,
  };
  process.send!(answer);
});
process.send!('ready');
