/** The command `listen`: sound as it comes → the key it is, and which way to move. */
import type { Readable } from 'node:stream';
import { createRawStream, createWavStream, type PcmStream } from '../audio/pcm-stream.js';
import { ANALYSIS_RATE } from '../audio/types.js';
import { createResampler, type Resampler } from '../dsp/resample.js';
import { EXIT, InputError } from '../errors.js';
import type { Melody } from '../melody.js';
import { hearOptionsFor } from '../pipeline/options.js';
import { checkLineIsThere } from '../practice/check-line.js';
import { createFollower } from '../practice/listen/follow.js';
import { createLiveNotes, type LiveEvent } from '../practice/listen/live-notes.js';
import { createLivePitch } from '../practice/listen/live-pitch.js';
import { systemReason } from '../system-reason.js';
import { noteName } from '../theory/pitch-names.js';
import { midiToHz } from '../units.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import { hearRequestOf } from './hear-request.js';
import type { ListenPlan } from './listen-options.js';
import { eventJson, eventLine, type Following, type NameOf, waitingLine } from './listen-words.js';
import { melodyOf } from './melody-input.js';
import { musicPlanOf } from './melody-options.js';
import { paintFor } from './paint.js';
import { RECORDER_RATE, type Recorder, startRecorder } from './recorder.js';
import { createSpeech, type Speech } from './say.js';

/**
 * Listens until the sound ends, the line is done or a person stops it.
 * @returns the exit status
 * @throws CantilenaError
 */
export async function runListen(plan: ListenPlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const { lowest, highest, target } = plan;
  const range = hearOptionsFor(
    hearRequestOf({ source: 'solo', from: null, to: null, lowest, highest }),
    'solo',
  );
  const melody = target === null ? null : await targetOf(target, speech, context);
  const teller = await createTeller(plan, melody, speech, context);

  const recorder = plan.from === 'recorder' ? await startRecorder(context) : null;
  const sound = recorder?.sound ?? context.streams.stdin;
  if (recorder !== null) await speech.word(`listening by ${recorder.name}; Ctrl-C ends it.`);
  const stop = () => {
    recorder?.stop();
    sound.destroy();
  };
  const undo = context.onInterrupt?.(stop);
  try {
    await teller.begin();
    const pitches = createLivePitch(ANALYSIS_RATE, {
      lowestHz: midiToHz(range.lowestMidi),
      highestHz: midiToHz(range.highestMidi),
    });
    const notes = createLiveNotes();
    for await (const samples of samplesOf(sound, streamFor(plan, recorder))) {
      for (const frame of pitches.push(samples)) {
        for (const event of notes.push(frame)) await teller.tell(event);
      }
      if (teller.isDone()) break;
    }
    for (const event of notes.finish()) await teller.tell(event);
    const complaint = teller.isDone() || recorder === null ? null : await recorder.complaint();
    if (complaint !== null) {
      throw new InputError(
        `${recorder!.name} cannot record (${complaint.replace(/\.$/, '')}): connect a microphone, or send sound to cantilena listen -.`,
      );
    }
  } finally {
    undo?.();
    stop();
    await teller.end();
  }
  return EXIT.done;
}

async function targetOf(input: string, speech: Speech, context: Context): Promise<Melody> {
  const { melody } = await melodyOf(
    {
      input,
      hearing: { source: null, from: null, to: null, lowest: null, highest: null },
      music: musicPlanOf({}),
    },
    speech,
    context,
  );
  return melody;
}

function streamFor({ raw }: ListenPlan, recorder: Recorder | null): PcmStream {
  const samples = recorder === null ? raw : { sampleRate: RECORDER_RATE, channels: 1 };
  return samples === null
    ? createWavStream('standard input')
    : createRawStream({ format: 'pcm', bits: 16, ...samples });
}

/** Mono samples at the rate of the analysis, as they come. */
async function* samplesOf(sound: Readable, stream: PcmStream): AsyncGenerator<Float32Array> {
  let resampler: Resampler | null = null;
  try {
    for await (const bytes of sound as AsyncIterable<Uint8Array>) {
      const block = stream.push(bytes);
      if (block === null) continue;
      resampler ??= createResampler(block.sampleRate, ANALYSIS_RATE);
      yield resampler.push(mono(block.channels));
    }
  } catch (error) {
    // Ctrl-C takes the stream away while it is read.
    if (sound.destroyed && !(error instanceof InputError)) return;
    if (error instanceof InputError) throw error;
    throw new InputError(`the sound cannot be read: ${systemReason(error)}.`);
  }
  stream.finish();
  if (resampler !== null) yield resampler.finish();
}

function mono(channels: readonly Float32Array[]): Float32Array {
  const [first, ...others] = channels;
  return others.length === 0
    ? first!
    : first!.map((sample, i) => others.reduce((sum, channel) => sum + channel[i]!, sample) / channels.length);
}

/** Says the events: a JSON object each, or on a terminal one line that is written again and again. */
async function createTeller(
  { json, line, sameOctave }: ListenPlan,
  melody: Melody | null,
  speech: Speech,
  { streams, env }: Context,
) {
  const paint = await paintFor(streams.stdout, env);
  const redraws = streams.stdout.isTTY === true && !json && env.TERM !== 'dumb';
  const notes = melody === null ? null : lineNotes(melody, line);
  const follower = notes === null ? null : createFollower(notes, !sameOctave);
  const best = melody?.scales[0];
  const nameOf: NameOf = (midi) => noteName(midi, best && { tonic: best.tonic, mode: best.mode });
  const draw = (text: string) => speech.result(`\r\x1b[K${text}`);
  const state = (advice: Following['advice']): Following | null =>
    notes === null ? null : { notes, advice, next: follower!.next };
  return {
    isDone: () => follower !== null && follower.next === null,
    async begin() {
      if (redraws) await draw(notes === null ? paint.dim('…') : waitingLine(state(null)!, nameOf, paint));
    },
    async tell(event: LiveEvent) {
      const following = state(follower?.push(event) ?? null);
      await (redraws
        ? draw(eventLine(event, following, { nameOf, paint, columns: columnsOf(streams.stdout) }))
        : speech.result(`${eventJson(event, following, nameOf)}\n`));
    },
    async end() {
      if (redraws) await speech.result('\n');
    },
  };
}

/** @throws UsageError for a line that is not there */
function lineNotes({ notes, lines }: Melody, line: number | null) {
  if (line !== null) checkLineIsThere(line, lines.length);
  return notes
    .map(({ midi, line: own }, i) => ({ number: i + 1, midi, line: own }))
    .filter((note) => line === null || note.line === line);
}
