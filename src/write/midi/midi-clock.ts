import type { MidiData } from 'midi-file';
import { lastAtOrBefore } from '../last-at-or-before.js';

/**
 * Microseconds a quarter note before the first tempo of a file: 120 a minute (SMF 1.0, "Set Tempo"), and what programs
 * write when they know none.
 */
export const DEFAULT_TEMPO = 500_000;

/**
 * The time of a tick in seconds, by the file's tempo map: stretches of constant tempo, each starting where
 * the one before ended. Files that count in film frames (SMPTE) have ticks of one length.
 */
export function tickClock(data: MidiData): (tick: number) => number {
  const { ticksPerBeat, framesPerSecond, ticksPerFrame } = data.header;
  if (!ticksPerBeat) {
    // 29 stands for 29.97 frames a second, drop-frame (SMF 1.0, "Header Chunks").
    const frames = framesPerSecond === 29 ? 30_000 / 1001 : (framesPerSecond ?? 1);
    const perSecond = frames * (ticksPerFrame || 1);
    return (tick) => tick / perSecond;
  }
  const stretches = [{ tick: 0, seconds: 0, tempo: DEFAULT_TEMPO }];
  for (const { tick, tempo } of tempos(data)) {
    const last = stretches.at(-1)!;
    const seconds = last.seconds + ((tick - last.tick) * last.tempo) / ticksPerBeat / 1e6;
    stretches.push({ tick, seconds, tempo });
  }
  const starts = stretches.map((stretch) => stretch.tick);
  return (tick) => {
    const stretch = stretches[lastAtOrBefore(starts, tick)]!;
    return stretch.seconds + ((tick - stretch.tick) * stretch.tempo) / ticksPerBeat / 1e6;
  };
}

/** The tempos of a file, in microseconds a quarter note, in order of their ticks. */
export function tempos(data: MidiData): { tick: number; tempo: number }[] {
  const list: { tick: number; tempo: number }[] = [];
  for (const track of data.tracks) {
    let tick = 0;
    for (const event of track) {
      tick += event.deltaTime;
      if (event.type === 'setTempo' && event.microsecondsPerBeat > 0) {
        list.push({ tick, tempo: event.microsecondsPerBeat });
      }
    }
  }
  return list.sort((a, b) => a.tick - b.tick);
}
