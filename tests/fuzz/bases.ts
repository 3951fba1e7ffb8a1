/** The whole files that are damaged: a second of the fixtures where ffmpeg cuts them, and half-second tones. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';

const FIXTURES = join(import.meta.dirname, '../../fixtures');
const TONES = join(import.meta.dirname, '../audio/files');
const GOLDEN = join(import.meta.dirname, '../write/golden');
const CUT_SECONDS = 1;

/** Kind of file → whole files of that kind. */
export type Bases = Readonly<Record<string, readonly Uint8Array[]>>;

/** From which fixture a kind is cut, and how it is encoded (`-c copy`: its own packets). */
const CUTS: readonly (readonly [kind: string, fixture: string, name: string, ...encoder: string[]])[] = [
  ['wav', 'hummed-sharp.wav', 'cut.wav', '-c', 'copy'],
  ['wav', 'stereo-sung.flac', 'float.wav', '-c:a', 'pcm_f32le'],
  ['mp3', 'whistled-brother-john.mp3', 'cut.mp3', '-c', 'copy'],
  ['flac', 'stereo-sung.flac', 'cut.flac', '-c:a', 'flac'],
  ['vorbis', 'sung-amazing-grace.ogg', 'cut.ogg', '-c', 'copy'],
  ['opus', 'piano-joy.opus', 'cut.opus', '-c', 'copy'],
  ['mp4', 'hummed-little-star.m4a', 'cut.m4a', '-c', 'copy'],
  ['mp4', 'hummed-little-star.m4a', 'parts.m4a', '-c', 'copy', '-movflags', 'frag_keyframe+empty_moov'],
  ['adts', 'hummed-little-star.m4a', 'cut.aac', '-c', 'copy'],
];

const KIND_OF: Readonly<Record<string, string>> = {
  '.wav': 'wav',
  '.mp3': 'mp3',
  '.flac': 'flac',
  '.ogg': 'vorbis',
  '.opus': 'opus',
  '.m4a': 'mp4',
  '.aac': 'adts',
};

/** A valid note list with all that its head may hold. */
const LIST = `# cantilena note list 1
# seconds 8.000
# tuning-cents 3.5
# source solo (one pitch at a time)
# tempo-bpm 120.0
# beats-per-bar 4
# first-downbeat 0.500
# beat-seconds 0.500 1.000 1.500 2.000 2.500 3.000
`;
const ROWS = ['C4', 'D4', 'E4', 'F4', 'G4', 'C5', 'Bb4', 'E4'].map(
  (name, i) =>
    `${1 + Math.floor(i / 4)}\t1\t1\t${(0.5 * i).toFixed(3)}\t0.500\t${name}\t-4\t0.90\t${i % 2 ? '3!' : '1'}\tor D4`,
);

/** Reads the bases, cut in a temporary folder; `quick` leaves the cutting out. */
export function readBases(quick: boolean): Bases {
  const bases: Record<string, Uint8Array[]> = {
    list: [Buffer.from(LIST + ROWS.join('\n')), readFileSync(join(GOLDEN, 'two-lines.tsv'))],
    json: [readFileSync(join(GOLDEN, 'two-lines.json.txt'))],
    midi: [goldenMidi()],
  };
  const add = (kind: string, bytes: Uint8Array) => {
    bases[kind] = [...(bases[kind] ?? []), new Uint8Array(bytes)];
  };
  for (const name of [
    'tone.mp3',
    'tone.flac',
    'tone.ogg',
    'tone.opus',
    'tone.m4a',
    'tone-lossless.m4a',
    'tone.aac',
  ]) {
    add(KIND_OF[extname(name)]!, readFileSync(join(TONES, name)));
  }
  add('wav', readFileSync(join(FIXTURES, 'hummed-sharp.wav')).subarray(0, 44 + 16_000));
  if (quick) return bases;
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-fuzz-'));
  try {
    for (const [kind, fixture, name, ...encoder] of CUTS) {
      const out = join(folder, name);
      const from = ['-i', join(FIXTURES, fixture), '-t', String(CUT_SECONDS)];
      const made = spawnSync('ffmpeg', ['-v', 'error', '-y', ...from, ...encoder, out]);
      if (made.status === 0) add(kind, readFileSync(out));
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return bases;
}

/** The golden file is hexadecimal with remarks after `#`. */
function goldenMidi(): Uint8Array {
  const text = readFileSync(join(GOLDEN, 'two-lines.mid.hex'), 'utf8').replace(/#.*$/gm, '');
  return new Uint8Array(Buffer.from(text.replace(/\s+/g, ''), 'hex'));
}
