/** The report `live`: what `listen` says of recordings that arrive block by block, how soon and how rightly. */
import { readFileSync } from 'node:fs';
import { decodeRecording } from '../../../src/audio/decode.js';
import { createLiveNotes, type LiveEvent } from '../../../src/practice/listen/live-notes.js';
import { createLivePitch } from '../../../src/practice/listen/live-pitch.js';
import { type Case, findCases } from '../cases.js';
import type { ScoredNote } from '../note-scores.js';
import { alignTable } from '../report.js';
import { atRealSpeed } from './real-speed.js';

/** Samples of a block: 20 ms at 16 kHz, what recorders hand over at a time. */
const BLOCK_SAMPLES = 320;
const RANGE = { lowestHz: 55, highestHz: 1500 };
/** Notes held longer than this are scored. */
const HELD_SECONDS = 0.3;
const SOON_SECONDS = 0.15;
/** A key named this long before the written start is the answer to it: the voice was there already. */
const EARLY_SECONDS = 0.05;

/** An event and when it was said, in seconds from the start of the sound. */
export type Said = LiveEvent & { readonly saidSeconds: number };

export interface LiveScores {
  /** Notes held over 0.3 s. */
  readonly notes: number;
  /** Of them, those whose key was the one that stood there for most of their time. */
  readonly right: number;
  /** Of them, those for which key and cents together lay within 50 cents of the note then: for voices between the keys. */
  readonly near: number;
  /** Of them, those that were answered within 0.15 s by a key that began with them, whichever key. */
  readonly soon: number;
  /** Seconds from each note's start to that first answer, rising. */
  readonly latencies: readonly number[];
}

/** Scores what was said against the notes; `offset` semitones are taken from the notes first. */
export function scoreLive(said: readonly Said[], notes: readonly ScoredNote[], offset: number): LiveScores {
  const held = notes.filter(({ start, end }) => end - start > HELD_SECONDS);
  const latencies: number[] = [];
  let right = 0;
  let near = 0;
  for (const { start, end, pitch } of held) {
    const answer = said.find(
      (e) => e.event === 'note' && e.saidSeconds >= start - EARLY_SECONDS && e.saidSeconds <= end,
    );
    if (answer !== undefined) latencies.push(Math.max(0, answer.saidSeconds - start));
    const stood = longestStanding(said, start, end);
    if (stood === null) continue;
    if (Math.abs(stood.midi - (pitch - offset)) <= 0.5) right++;
    if (Math.abs(stood.midi + stood.cents / 100 - (pitch - offset)) <= 0.5) near++;
  }
  latencies.sort((a, b) => a - b);
  return {
    notes: held.length,
    right,
    near,
    soon: latencies.filter((seconds) => seconds <= SOON_SECONDS).length,
    latencies,
  };
}

/** Of the keys that stood there between two times, the last word on the one that stood longest; null where none did. */
function longestStanding(said: readonly Said[], start: number, end: number): Said | null {
  const longest = new Map<number, { seconds: number; word: Said }>();
  said.forEach((word, i) => {
    if (word.event === 'end') return;
    const until = Math.min(end, said[i + 1]?.saidSeconds ?? end);
    const seconds = until - Math.max(start, word.saidSeconds);
    if (seconds > 0)
      longest.set(word.midi, { seconds: seconds + (longest.get(word.midi)?.seconds ?? 0), word });
  });
  const [best] = [...longest.values()].sort((a, b) => b.seconds - a.seconds);
  return best?.word ?? null;
}

/**
 * The labels of the sight-singing lie on a scale of their own: the semitones by which a recording's labels lie above what was
 * heard, in the median over the notes.
 */
function labelOffset(said: readonly Said[], notes: readonly ScoredNote[]): number {
  const differences = notes
    .flatMap(({ start, end, pitch }) => {
      const stood = longestStanding(said, start, end);
      const difference = stood === null ? Number.NaN : pitch - (stood.midi + stood.cents / 100);
      return Math.abs(difference) <= 1.5 ? [difference] : [];
    })
    .sort((a, b) => a - b);
  return differences[Math.floor(differences.length / 2)] ?? 0;
}

async function hear({ path }: Case): Promise<{ said: Said[]; costShare: number }> {
  const recording = await decodeRecording(readFileSync(path), path, { side: false });
  const pitch = createLivePitch(recording.sampleRate, RANGE);
  const live = createLiveNotes();
  const said: Said[] = [];
  let spent = 0;
  for (let at = 0; at < recording.samples.length; at += BLOCK_SAMPLES) {
    const begun = performance.now();
    const frames = pitch.push(recording.samples.subarray(at, at + BLOCK_SAMPLES));
    const events = frames.flatMap((frame) => live.push(frame));
    const seconds = (performance.now() - begun) / 1000;
    spent += seconds;
    const arrived = Math.min(at + BLOCK_SAMPLES, recording.samples.length) / recording.sampleRate;
    said.push(...events.map((event) => ({ ...event, saidSeconds: arrived + seconds })));
  }
  return { said, costShare: spent / (recording.samples.length / recording.sampleRate) };
}

const HEAD = [
  'live',
  'notes > 0.3 s',
  'right key',
  'within 50 cents',
  'within 0.15 s',
  'median s',
  '95 % s',
  'time',
];

function row(name: string, all: readonly LiveScores[], costs: readonly number[]): string[] {
  const sum = (of: (scores: LiveScores) => number) => all.reduce((total, scores) => total + of(scores), 0);
  const latencies = all.flatMap((scores) => scores.latencies).sort((a, b) => a - b);
  const at = (share: number) => latencies[Math.floor(share * (latencies.length - 1))]?.toFixed(3) ?? '';
  const notes = sum((scores) => scores.notes);
  return [
    name,
    String(notes),
    (sum((scores) => scores.right) / notes).toFixed(3),
    (sum((scores) => scores.near) / notes).toFixed(3),
    (sum((scores) => scores.soon) / notes).toFixed(3),
    at(0.5),
    at(0.95),
    costs.length === 0 ? '' : (costs.reduce((a, b) => a + b, 0) / costs.length).toFixed(3),
  ];
}

const GROUPS = { 'made, sung': 'sung', 'made, piano': 'piano', ssvd: 'ssvd', vocadito: 'vocadito' } as const;

/** The table, null without recordings of one voice or piano. */
export async function liveReport(root: string): Promise<string | null> {
  const { cases } = findCases(root, { groups: Object.values(GROUPS), half: null, name: '' });
  if (cases.length === 0) return null;
  const rows: string[][] = [];
  for (const [title, group] of Object.entries(GROUPS)) {
    const scores: LiveScores[] = [];
    const costs: number[] = [];
    for (const one of cases.filter((c) => c.group === group)) {
      const { said, costShare } = await hear(one);
      const { notes } = one.readings[0]!;
      scores.push(scoreLive(said, notes, group === 'ssvd' ? labelOffset(said, notes) : 0));
      costs.push(costShare);
    }
    if (scores.length > 0) rows.push(row(title, scores, costs));
  }
  const streamed = cases.filter(({ group }) => group === 'sung' || group === 'piano').slice(0, 2);
  for (const one of streamed) {
    const { notes } = one.readings[0]!;
    const said = await atRealSpeed(one.path);
    rows.push(row(`${one.name} at real speed`, [scoreLive(said, notes, 0)], []));
  }
  return alignTable(HEAD, rows);
}
