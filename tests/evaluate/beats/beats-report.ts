/** The beats heard in recordings, beside what the beat trackers of essentia.js make of them. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { decodeBlocks, decodeRecording } from '../../../src/audio/decode.js';
import { createResampler } from '../../../src/dsp/resample.js';
import { bandBeats } from '../../../src/rhythm/band/band-beats.js';
import { BEATS_RATE, loadEssentia } from '../../baseline/essentia.js';
import { alignTable } from '../report.js';
import { type BeatCase, findBeatCases } from './beat-cases.js';
import { MIREX_SKIPPED_SECONDS, scoreBeats, tempoOf, tempoRight } from './beat-scores.js';

/** One tracker on one recording; no beats where it tells a tempo only. */
interface Heard {
  readonly tracker: string;
  readonly bpm: number | null;
  readonly beats: readonly number[] | null;
  readonly share: number;
}

interface Row extends Heard {
  readonly known: BeatCase;
}

/** Mean of the channels at the rate of the baseline's beat trackers. */
async function monoForBaseline(path: string): Promise<Float32Array> {
  const parts: Float32Array[] = [];
  let resampler: ReturnType<typeof createResampler> | null = null;
  for await (const { channels, sampleRate } of decodeBlocks(readFileSync(path), path)) {
    resampler ??= createResampler(sampleRate, BEATS_RATE);
    const mean = channels[0]!.map(
      (_, i) => channels.reduce((sum, channel) => sum + channel[i]!, 0) / channels.length,
    );
    parts.push(resampler.push(mean));
  }
  if (resampler !== null) parts.push(resampler.finish());
  const mono = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    mono.set(part, at);
    at += part.length;
  }
  return mono;
}

function timed<T>(seconds: number, run: () => T): { result: T; share: number } {
  const begun = performance.now();
  const result = run();
  return { result, share: (performance.now() - begun) / 1000 / seconds };
}

async function hearAll(path: string): Promise<Heard[]> {
  const recording = await decodeRecording(readFileSync(path), path);
  const seconds = recording.samples.length / recording.sampleRate;
  const own = timed(seconds, () => bandBeats(recording));
  const beats = own.result?.seconds ?? [];
  const heard: Heard[] = [{ tracker: 'ours', bpm: tempoOf(beats), beats, share: own.share }];
  const essentia = await loadEssentia();
  const mono = await monoForBaseline(path);
  for (const method of ['multifeature', 'degara'] as const) {
    const { result, share } = timed(seconds, () => essentia.beats(mono, method));
    heard.push({
      tracker: `RhythmExtractor2013 ${method}`,
      bpm: result.bpm,
      beats: result.seconds,
      share,
    });
  }
  const tempo = timed(seconds, () => essentia.tempo(mono));
  heard.push({ tracker: 'PercivalBpmEstimator', bpm: tempo.result, beats: null, share: tempo.share });
  return heard;
}

const HEAD = ['recordings', 'tracker', 'tempo', 'octave forgiven', 'beat F', 'least', 'F from 5 s', 'time'];

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function cells(label: string, rows: readonly Row[]): string[] {
  const right = (octaveForgiven: boolean) =>
    rows.filter(({ known, bpm }) => tempoRight(known.bpm, bpm, octaveForgiven)).length;
  const scores = (skip: number) =>
    rows.flatMap(({ known, beats }) => (beats === null ? [] : [scoreBeats(known.beats, beats, skip).f]));
  const whole = scores(0);
  const figures =
    whole.length === 0
      ? ['', '', '']
      : [meanOf(whole), Math.min(...whole), meanOf(scores(MIREX_SKIPPED_SECONDS))].map((f) => f.toFixed(3));
  return [
    label,
    rows[0]!.tracker,
    `${right(false)}/${rows.length}`,
    `${right(true)}/${rows.length}`,
    ...figures,
    meanOf(rows.map(({ share }) => share)).toFixed(4),
  ];
}

/**
 * For every kind of recording in `ROOT/made` and every tracker: how many tempos are right within 3 %, the beat F
 * (mean and least), and the time as a share of the length, as text; null where there are no such recordings.
 */
export async function beatsReport(root: string): Promise<string | null> {
  const cases = findBeatCases(join(root, 'made'));
  if (cases.length === 0) return null;
  const rows: Row[] = [];
  // The first is heard twice, so that no tracker is timed while it is being compiled.
  await hearAll(cases[0]!.path);
  for (const known of cases) {
    for (const heard of await hearAll(known.path)) rows.push({ ...heard, known });
  }
  const kinds = [...new Set(cases.map(({ kind }) => kind))].sort();
  const trackers = [...new Set(rows.map(({ tracker }) => tracker))];
  const body = kinds.flatMap((kind) =>
    trackers.map((tracker) =>
      cells(
        kind,
        rows.filter((row) => row.known.kind === kind && row.tracker === tracker),
      ),
    ),
  );
  return alignTable(HEAD, body);
}
