/** The events of a guide → sound. */
import { addClick } from '../../audio/piano/click.js';
import { addHeldTone, swell } from '../../audio/piano/held-tone.js';
import { addStrike } from '../../audio/piano/strike.js';
import { PLAY_RATE, type Playable } from '../../audio/playable.js';
import { stretch } from '../../dsp/stretch/stretch.js';
import { truePeak } from '../../dsp/true-peak.js';
import { dbToAmplitude } from '../../units.js';
import type { GuidePlan } from './types.js';

/** A recording to play beside the piano, decoded from `from` seconds of it on. */
export interface Beside extends Playable {
  readonly from: number;
}

/** Largest value between samples too: −1 dB, so that no player and no codec has to clip. */
const HIGHEST_PEAK = dbToAmplitude(-1);
/** Level of the sounding parts of a channel, in decibels of its RMS, where the peak leaves room (our choice). */
const LEVEL_DB = -20;
/** What lies this far below a channel's loudest tenth of a second does not count for its level. */
const SOUNDING_DB = -30;
/** A guide begins so much softer than it goes on, and reaches its level after so many seconds of sound. */
const BEGINS_DB = -9;
const FADE_IN_SECONDS = 1.5;
const FADE_OUT_SECONDS = 0.8;
/** A part of the recording comes and goes within this, so that its edges do not click. */
const EDGE_SECONDS = 0.03;

/**
 * The sound at PLAY_RATE: the piano, or with a recording beside it the recording first (left) and the piano second
 * (right). Begins with the silence of the plan and quietly, ends in silence, and never exceeds −1 dB between samples.
 *
 * @param beside what the plan's events of kind `recording` play; null without such events
 */
export function renderGuide(plan: GuidePlan, beside: Beside | null): Float32Array[] {
  const length = Math.ceil(plan.seconds * PLAY_RATE);
  const piano = new Float32Array(length);
  const left = beside === null ? null : new Float32Array(length);
  // A part that is played again is stretched once.
  const stretched = new Map<string, Float32Array>();
  for (const event of plan.events) {
    switch (event.kind) {
      case 'key':
        addStrike(piano, PLAY_RATE, event);
        break;
      case 'click':
        addClick(piano, PLAY_RATE, event.start, event.first);
        break;
      case 'tone':
        addHeldTone(piano, PLAY_RATE, event);
        break;
      case 'recording': {
        const name = `${event.from} ${event.to}`;
        const part = stretched.get(name) ?? partOf(beside!, event.from, event.to, plan.speed);
        stretched.set(name, part);
        const at = Math.round(event.start * PLAY_RATE);
        const room = Math.max(0, Math.min(part.length, length - at));
        for (let i = 0; i < room; i++) left![at + i]! += part[i]!;
      }
    }
  }
  const channels = left === null ? [piano] : [left, piano];
  const firstSound = Math.round((plan.events[0]?.start ?? 0) * PLAY_RATE);
  for (const channel of channels) {
    scale(channel, levelling(channel));
    fade(channel, firstSound);
  }
  const peak = Math.max(...channels.map(truePeak));
  for (const channel of channels) scale(channel, Math.min(1, HIGHEST_PEAK / peak));
  return channels;
}

function partOf(
  { samples, speed: tuned, from: begin }: Beside,
  from: number,
  to: number,
  speed: number,
): Float32Array {
  const first = Math.max(0, Math.round(((from - begin) * PLAY_RATE) / tuned));
  const last = Math.round(((to - begin) * PLAY_RATE) / tuned);
  // Its edges are smoothed before too: cut off in a note, it would be stretched with the click of the cut.
  const part = stretch(smoothEdges(samples.subarray(first, last)), PLAY_RATE, speed / tuned);
  return smoothEdges(part);
}

/** The samples with both ends brought to nothing. */
function smoothEdges(samples: Float32Array): Float32Array {
  const edge = EDGE_SECONDS * PLAY_RATE;
  return samples.map((sample, i) => sample * swell(i / edge) * swell((samples.length - 1 - i) / edge));
}

/** What brings the sounding parts of a channel to their level; 1 for silence. */
function levelling(channel: Float32Array): number {
  const block = Math.round(PLAY_RATE / 10);
  const powers: number[] = [];
  for (let from = 0; from + block <= channel.length; from += block) {
    let sum = 0;
    for (let i = from; i < from + block; i++) sum += channel[i]! ** 2;
    powers.push(sum / block);
  }
  const loudest = Math.max(0, ...powers);
  if (loudest === 0) return 1;
  const sounding = powers.filter((power) => power > loudest * dbToAmplitude(2 * SOUNDING_DB));
  const mean = sounding.reduce((sum, power) => sum + power, 0) / sounding.length;
  return dbToAmplitude(LEVEL_DB) / Math.sqrt(mean);
}

function scale(channel: Float32Array, gain: number): void {
  for (let i = 0; i < channel.length; i++) channel[i]! *= gain;
}

/** Soft at the first sound and slowly louder; nothing is left at the end. */
function fade(channel: Float32Array, firstSound: number): void {
  const rise = FADE_IN_SECONDS * PLAY_RATE;
  const fall = FADE_OUT_SECONDS * PLAY_RATE;
  for (let i = 0; i < channel.length; i++) {
    const since = Math.max(0, i - firstSound) / rise;
    const gain = since >= 1 ? 1 : dbToAmplitude(BEGINS_DB * (1 - swell(since)));
    channel[i]! *= gain * swell((channel.length - 1 - i) / fall);
  }
}
