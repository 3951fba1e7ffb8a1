/** Sound that arrives piece by piece, as WAV or as bare samples → blocks of floats. */
import { InputError } from '../errors.js';
import { tagAt } from './bytes.js';
import type { PcmBlock } from './open-audio.js';
import { type PcmCoding, pcmBlock } from './wav.js';
import { readWavLayout } from './wav-layout.js';

export interface PcmStream {
  /**
   * Takes the next bytes and gives the whole samples that they complete, or null while there are none.
   * @throws InputError for what is no WAV, or WAV that is not read
   */
  push(bytes: Uint8Array): PcmBlock | null;
  /** @throws InputError when the sound ended before its header did */
  finish(): void;
}

/** Most bytes before the first sample: pictures and notes of the recording program may stand there. */
const LONGEST_HEAD_BYTES = 2 ** 20;
/** Slowest and fastest sampling that is taken, hertz: as for whole files. */
const RATES_HZ = { lowest: 1000, highest: 768_000 } as const;

/** Bare samples without a header. */
export function createRawStream(coding: PcmCoding): PcmStream {
  const frameBytes = coding.channels * (coding.bits / 8);
  let rest: Uint8Array = new Uint8Array(0);
  return {
    push(bytes) {
      const all = joined(rest, bytes);
      const used = all.length - (all.length % frameBytes);
      rest = all.slice(used);
      return used === 0 ? null : pcmBlock(coding, all.subarray(0, used));
    },
    finish() {},
  };
}

/** WAV whose sizes are not known yet while it is written, as recorders and converters write it into a pipe. */
export function createWavStream(label: string): PcmStream {
  let head: Uint8Array = new Uint8Array(0);
  let samples: PcmStream | null = null;
  /** Bytes of sound that are still to come: what follows them is no sound. */
  let leftBytes = Number.POSITIVE_INFINITY;
  const take = (bytes: Uint8Array): PcmBlock | null => {
    const own = bytes.subarray(0, Math.min(bytes.length, leftBytes));
    leftBytes -= own.length;
    return samples!.push(own);
  };
  return {
    push(bytes) {
      if (samples !== null) return take(bytes);
      head = joined(head, bytes);
      const opened = openHead(head, label);
      if (opened === null) return null;
      samples = createRawStream(opened.coding);
      leftBytes = opened.claimedBytes ?? Number.POSITIVE_INFINITY;
      const first = head.subarray(opened.startBytes);
      head = new Uint8Array(0);
      return take(first);
    },
    finish() {
      if (samples === null && head.length > 0) readWavLayout(head, label);
      if (samples === null) throw new InputError(`${label} is empty: send it WAV, or samples with --raw.`);
    },
  };
}

/** The header, once all of it is there; null before. */
function openHead(head: Uint8Array, label: string) {
  if (head.length < 4) return null;
  if (!['RIFF', 'RF64', 'BW64'].includes(tagAt(head, 0))) {
    throw new InputError(`${label} is no WAV: send it WAV, or bare samples and say so with --raw 16000.`);
  }
  const startBytes = dataStart(head);
  if (startBytes === null) {
    if (head.length < LONGEST_HEAD_BYTES) return null;
    throw new InputError(`${label} is a WAV stream without sound in its first megabyte: record it again.`);
  }
  const { claimedBytes, ...coding } = readWavLayout(head, label);
  if (coding.sampleRate < RATES_HZ.lowest || coding.sampleRate > RATES_HZ.highest) {
    throw new InputError(`${label} says that it has ${coding.sampleRate} samples a second: record it again.`);
  }
  // A size of 0 is what a writer leaves that does not know yet how much will come.
  return { coding, startBytes, claimedBytes: claimedBytes === 0 ? null : claimedBytes };
}

/** Place of the first sample; null while the chunk of samples has not begun. */
function dataStart(head: Uint8Array): number | null {
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  for (let at = 12; at + 8 <= head.length; ) {
    if (tagAt(head, at) === 'data') return at + 8;
    const size = view.getUint32(at + 4, true);
    at += 8 + size + (size % 2);
  }
  return null;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
