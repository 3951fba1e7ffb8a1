/** The report `guide`: recordings stretched, the piano's pitch, and guides heard back by the program's own solo tracker. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { addStrike } from '../../../src/audio/piano/strike.js';
import { decodePlayable, PLAY_RATE } from '../../../src/audio/playable.js';
import { stretch } from '../../../src/dsp/stretch/stretch.js';
import { midiToHz } from '../../../src/units.js';
import { stretchByOverlap } from '../../baseline/overlap-add.js';
import { centsOff } from '../../dsp/cents-off.js';
import { alignTable } from '../report.js';
import { readRenderedTruth } from '../truth.js';
import { heardBackTable, type Made } from './heard-back.js';
import { type StretchScores, scoreStretch } from './stretch-scores.js';

const SPEEDS = [0.5, 0.7, 0.85, 1.25] as const;
/** Seconds of each recording that are stretched. */
const SECONDS = 10;
/** Recordings by which the length of the frame was chosen: they are in a mean of their own. */
const CHOSEN_BY: ReadonlySet<string> = new Set([
  'sung-joy-noisy',
  'sung-little-star-low',
  'piano-greensleeves',
  'mix-sailor-rock',
]);
const STRETCHERS = { 'phase vocoder': stretch, WSOLA: stretchByOverlap } as const;

/** The tables over DIR/made, null without it. */
export async function guideReport(root: string): Promise<string | null> {
  const folder = join(root, 'made');
  if (!existsSync(folder)) return null;
  const made = readdirSync(folder)
    .filter((file) => file.endsWith('.flac'))
    .map((file): Made => {
      const name = file.replace(/\.flac$/, '');
      const truth = join(folder, `${name}.truth.json`);
      const { notes } = readRenderedTruth(readFileSync(truth, 'utf8'), truth);
      return { name, path: join(folder, file), notes };
    });
  return [await stretchTable(made), pianoTable(), await heardBackTable(made)].join('\n\n');
}

/** Brings the last 50 ms to nothing: where a recording is cut off in a note, the cut itself clicks. */
function smoothEnd(samples: Float32Array): void {
  const length = 0.05 * PLAY_RATE;
  for (let left = 0; left < length; left++) {
    samples[samples.length - 1 - left]! *= 0.5 - 0.5 * Math.cos((Math.PI * left) / length);
  }
}

interface StretchRow {
  readonly name: string;
  readonly method: string;
  readonly speed: number;
  readonly scores: StretchScores;
}

const HEAD = [
  'stretched',
  'speed',
  'median cents',
  '95 % cents',
  'length %',
  'sharpest',
  'clicks',
  'attacks −dB',
];

const NOTES =
  'cents: of the notes, by the phase of their first three partials before and after, the middle one of the three.\n' +
  'sharpest, clicks: times the recording nearby, and moments over 2 (a sum, in the means too). attacks: decibels by\n' +
  'which their rise is smaller.';

function cells({
  medianCents,
  highCents,
  lengthPercent,
  sharpest,
  clicks,
  smearDb,
}: StretchScores): string[] {
  return [medianCents, highCents, lengthPercent, sharpest]
    .map((value) => value.toFixed(2))
    .concat([clicks.toFixed(0), smearDb.toFixed(1)]);
}

async function stretchTable(made: readonly Made[]): Promise<string> {
  const rows: StretchRow[] = [];
  for (const { name, path, notes } of made) {
    const range = { from: 0, to: SECONDS, tuningCents: 0 };
    const { samples } = await decodePlayable(readFileSync(path), path, range);
    smoothEnd(samples);
    for (const [method, by] of Object.entries(STRETCHERS)) {
      // The other method is there to be compared at the speed that is hardest: once is enough.
      for (const speed of by === stretch ? SPEEDS : SPEEDS.slice(0, 1)) {
        const sound = { samples, rate: PLAY_RATE };
        rows.push({
          name,
          method,
          speed,
          scores: scoreStretch(by(samples, PLAY_RATE, speed), sound, speed, notes),
        });
      }
    }
  }
  const own = rows.filter(({ method }) => method === 'phase vocoder');
  const each = own.map(({ name, speed, scores }) => [name, String(speed), ...cells(scores)]);
  const means = [
    ...SPEEDS.map((speed) => ({ method: 'phase vocoder', speed })),
    { method: 'WSOLA', speed: SPEEDS[0] },
  ].flatMap(({ method, speed }) =>
    [true, false].map((chosen) => {
      const of = rows.filter(
        (row) => row.method === method && row.speed === speed && CHOSEN_BY.has(row.name) === chosen,
      );
      return [
        `${method}, ${chosen ? 'chosen by these' : 'the other'} ${of.length}`,
        String(speed),
        ...cells(meanOf(of)),
      ];
    }),
  );
  return `${alignTable(HEAD, each)}\n\n${alignTable(['mean of', ...HEAD.slice(1)], means)}\n${NOTES}`;
}

function meanOf(rows: readonly StretchRow[]): StretchScores {
  const mean = (of: (scores: StretchScores) => number) =>
    rows.reduce((sum, { scores }) => sum + of(scores), 0) / rows.length;
  return {
    medianCents: mean((s) => s.medianCents),
    highCents: mean((s) => s.highCents),
    lengthPercent: mean((s) => s.lengthPercent),
    sharpest: mean((s) => s.sharpest),
    clicks: rows.length * mean((s) => s.clicks),
    smearDb: mean((s) => s.smearDb),
  };
}

/** C3 to C6. */
const KEYS = Array.from({ length: 37 }, (_, i) => 48 + i);

function pianoTable(): string {
  const cents = KEYS.map((midi) => {
    const out = new Float32Array(2 * PLAY_RATE);
    addStrike(out, PLAY_RATE, { midi, start: 0.1, end: 1.5, velocity: 0.6 });
    return centsOff(out, PLAY_RATE, midiToHz(midi), [0.15, 1.4]);
  });
  const worst = cents.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return `piano, first partial of C3 to C6 against equal temperament: at most ${worst.toFixed(2)} cents off`;
}
