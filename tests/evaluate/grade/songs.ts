/** Melodies to be graded, from true notes: pop songs as played and as written, and the rendered tunes. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Melody } from '../../../src/melody.js';
import { type MeasureInput, measure } from '../../../src/pipeline/measure.js';
import type { BeatsKnown } from '../../../src/rhythm/types.js';
import { WITH_PICKUP } from '../lines/made-tunes.js';
import { PHRASES_FILE } from '../lines/phrase-songs.js';

export interface GradeSong {
  readonly name: string;
  /** Tonic 0..11. */
  readonly tonic: number;
  readonly notes: readonly TrueNote[];
  readonly beat: BeatsKnown;
  readonly lineStarts: readonly number[] | null;
}

interface TrueNote {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

const UNKNOWN: BeatsKnown = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };

/** The melody of a song, moved by semitones, and as fast as `speed` says. */
export function melodyOf(song: GradeSong, semitones = 0, speed = 1): Melody {
  const notes = song.notes.map(({ start, end, midi }) => ({
    start: start / speed,
    end: end / speed,
    midi: midi + semitones,
    pitch: midi + semitones,
    confidence: 1,
    other: null,
  }));
  const { bpm, firstDownbeatSeconds, beatSeconds, ...meter } = song.beat;
  const input: MeasureInput = {
    notes,
    tuningCents: 0,
    seconds: notes.at(-1)!.end,
    lineStarts: song.lineStarts,
    heardAs: null,
    band: null,
  };
  return measure(input, {
    beat: {
      ...meter,
      bpm: bpm === null ? null : bpm * speed,
      firstDownbeatSeconds: firstDownbeatSeconds === null ? null : firstDownbeatSeconds / speed,
    },
    key: null,
    hand: 'medium',
  });
}

function linesOfFile(root: string, file: string): string[] {
  const path = join(root, file);
  return existsSync(path) ? readFileSync(path, 'utf8').trim().split('\n') : [];
}

/** As played, beats unknown; empty where they are not there. */
export function playedSongs(root: string): GradeSong[] {
  return linesOfFile(root, 'keys/pop909-melodies.jsonl').map((line) => {
    const { id, tonic, notes } = JSON.parse(line) as {
      id: string;
      tonic: number;
      notes: [number, number, number][];
    };
    return {
      name: id,
      tonic,
      notes: notes.map(([start, length, midi]) => ({ start, end: start + length, midi })),
      beat: UNKNOWN,
      lineStarts: null,
    };
  });
}

/** As written, at their tempo, in bars of four; empty where they are not there. */
export function writtenSongs(root: string): GradeSong[] {
  return linesOfFile(root, PHRASES_FILE).map((line) => {
    const song = JSON.parse(line) as { id: string; tonic: number; bpm: number; notes: [number, number][] };
    const sixteenth = 15 / song.bpm;
    let at = 0;
    const notes: TrueNote[] = [];
    for (const [midi, length] of song.notes) {
      if (midi > 0) notes.push({ start: at * sixteenth, end: (at + length) * sixteenth, midi });
      at += length;
    }
    return {
      name: song.id,
      tonic: song.tonic,
      notes,
      beat: { bpm: song.bpm, beatsPerBar: 4, beatUnit: 4, firstDownbeatSeconds: 0 },
      lineStarts: null,
    };
  });
}

interface Truth {
  readonly name: string;
  readonly tune: string;
  readonly key: { readonly tonic: number };
  readonly bpm: number;
  readonly beatsPerBar: number;
  /** The midi numbers of the notes hold this in them. */
  readonly tuningCents: number;
  readonly firstBeat: number;
  readonly lineStarts: readonly number[];
  readonly notes: readonly { readonly on: number; readonly off: number; readonly midi: number }[];
}

/** The rendered tunes by the name of the tune, in order of it; empty where they are not there. */
export function tunesOf(root: string): GradeSong[] {
  const folder = join(root, 'made');
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder).filter((file) => file.endsWith('.truth.json'));
  return files
    .map((file) => tuneOf(JSON.parse(readFileSync(join(folder, file), 'utf8')) as Truth))
    .sort((a, b) => a.name.localeCompare(b.name));
}

function tuneOf({
  name,
  tune,
  key,
  bpm,
  beatsPerBar,
  tuningCents,
  firstBeat,
  lineStarts,
  notes,
}: Truth): GradeSong {
  const pickupSeconds = WITH_PICKUP.includes(tune) ? 60 / bpm : 0;
  return {
    name: `${tune} (${name})`,
    tonic: key.tonic,
    notes: notes.map(({ on, off, midi }) => ({
      start: on,
      end: off,
      midi: Math.round(midi - tuningCents / 100),
    })),
    beat: { bpm, beatsPerBar, beatUnit: 4, firstDownbeatSeconds: firstBeat + pickupSeconds },
    lineStarts: lineStarts.map((index) => index + 1),
  };
}
