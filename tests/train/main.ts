/**
 * `npm run train -- DIR [--more DIR …] [--out FILE] [--epochs N] [--seed N]`: trains the voice network and
 * writes its weights, the text of src/pitch/voice-weights.ts, to FILE or to standard output.
 *
 * DIR is laid out as for `npm run evaluate` (docs/measured.md). Of it are read `singing/ssvd`, half a only, and
 * `mir1k/` (`NAME.opus`, voice on the right, with `NAME.pv`), a part of it; never what is kept for measuring.
 * `--more` takes folders of computed recordings with `NAME.truth.json`; `tests/train/render.ts` makes one.
 *
 * From a file to the weights:
 * decode-file.ts        sound of one channel
 * sources.ts, truth.ts  which recordings, and what is known of them
 * targets.ts            what the network should say in each frame
 * noise.ts, features.ts a second version with noise; what the program measures in each
 * dataset.ts            which frames are used
 * augment.ts            small changes of level and colour, anew each time
 * gradient.ts, adam.ts  one step
 * train.ts              all steps
 * weights-file.ts       the file
 *
 * The same data, options and machine give the same file. Sixteen epochs of 400,000 frames take about six minutes on
 * one core, a quarter of it for the features.
 */
import { existsSync, writeFileSync } from 'node:fs';
import { seededRandom } from '../../fixtures/maker/random.js';
import { parseRequest, type TrainRequest } from './arguments.js';
import { examplesOf, type Part, partsOf } from './dataset.js';
import { decodeFile } from './decode-file.js';
import { karaokeClips, refuseOverlap, renderedFolder, sightSinging, type TrainingFile } from './sources.js';
import { train } from './train.js';
import { weightsFile } from './weights-file.js';

function filesOf({ root, more }: TrainRequest): TrainingFile[] {
  for (const folder of [root, ...more]) {
    if (!existsSync(folder)) throw new Error(`There is no folder ${folder}.`);
  }
  for (const folder of more) refuseOverlap(root, folder);
  const groups: [string, TrainingFile[]][] = [
    ['singing/ssvd, half a', sightSinging(root)],
    ['mir1k', karaokeClips(root)],
    ...more.map((folder): [string, TrainingFile[]] => [folder, renderedFolder(folder)]),
  ];
  for (const [name, files] of groups) console.error(`${name}: ${files.length} recordings`);
  return groups.flatMap(([, files]) => files);
}

async function run(request: TrainRequest): Promise<void> {
  const files = filesOf(request);
  if (files.length === 0) throw new Error(`There is nothing to train on in ${request.root}.`);
  const random = seededRandom(request.seed);
  const parts: Part[] = [];
  for (const file of files) {
    const { labels, weight, mostFrames } = file;
    parts.push(...partsOf({ samples: await decodeFile(file), labels, weight, mostFrames }, random));
  }
  const examples = examplesOf(parts);
  console.error(`${examples.frame.length} frames`);
  const onEpoch = (epoch: number, loss: number) =>
    console.error(`epoch ${epoch} of ${request.epochs}: loss ${loss.toFixed(4)}`);
  const text = weightsFile(train(examples, { epochs: request.epochs, seed: request.seed, onEpoch }));
  if (request.out === null) process.stdout.write(text);
  else writeFileSync(request.out, text);
}

try {
  await run(parseRequest(process.argv.slice(2)));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
