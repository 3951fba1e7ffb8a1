/** Writing to standard output and standard error, also when nobody reads any more. */
import { OutputError } from '../errors.js';
import { systemCode, systemReason } from '../system-reason.js';
import { plainText } from '../write/plain-text.js';
import { cutEnd } from '../write/screen/text-width.js';
import { wrap } from '../write/screen/wrap.js';
import { columnsOf } from './columns.js';
import type { Context, Output } from './context.js';

export interface Speech {
  /** A result, to standard output. A reader that has gone away is no error (`| head -1`). */
  result(text: string): Promise<void>;
  /** A sentence for people, to standard error. */
  word(text: string): Promise<void>;
  /** A sentence that stands only while work goes on, on a terminal; gives back how to wipe it away. */
  progress(text: string): Promise<() => Promise<void>>;
}

/** @throws OutputError (from `result`) where standard output takes no more, for instance on a full disk. */
export function createSpeech({ streams, env }: Pick<Context, 'streams' | 'env'>, quiet: boolean): Speech {
  const { stderr } = streams;
  const columns = columnsOf(stderr);
  const word = (text: string) => (quiet ? Promise.resolve() : tell(stderr, text));
  const lasting = stderr.isTTY === true && env.TERM !== 'dumb' && !quiet;
  return {
    async result(text) {
      const error = await put(streams.stdout, text);
      if (error !== null && systemCode(error) !== 'EPIPE') {
        throw new OutputError(`standard output cannot be written: ${systemReason(error)}.`);
      }
    },
    // A log keeps a sentence on one line; on a terminal no word is broken in two.
    word: (text) =>
      word(
        `${(stderr.isTTY === true ? wrap(oneLine(text), columns, '', '  ') : [oneLine(text)]).join('\n')}\n`,
      ),
    async progress(text) {
      if (!lasting) return () => Promise.resolve();
      await tell(stderr, cutEnd(oneLine(text), columns - 1));
      return () => tell(stderr, '\r\x1b[K');
    },
  };
}

/** Words for people are not worth failing for. */
async function tell(output: Output, text: string): Promise<void> {
  await put(output, text);
}

/** Names may hold line breaks and control codes; a sentence must not. */
export function oneLine(text: string): string {
  return plainText(text);
}

/** Outputs whose errors are listened to already. */
const guarded = new WeakSet<Output>();

/** An 'error' event without a listener ends the process; the callback of a write tells the same. */
function guard(output: Output): void {
  if (guarded.has(output)) return;
  guarded.add(output);
  output.on('error', () => {});
}

/** Writes and waits; gives back what went wrong, or null. */
function put(output: Output, text: string): Promise<Error | null> {
  guard(output);
  return new Promise((resolve) => {
    output.write(text, (error) => resolve(error ?? null));
  });
}
