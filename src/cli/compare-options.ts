/** The options of `compare`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import type { HearRequest } from '../pipeline/options.js';
import { addGroup, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { checkNamed } from './inputs.js';
import { HEARING_HEADING, type HearingPlan, hearingPlanOf, INPUT_KINDS } from './melody-options.js';
import { oneOf, parseLine, parseTime, wrongValue } from './values.js';

/** `compare`, as asked for; null where nothing was said. */
export interface ComparePlan {
  /** Paths, `-` for standard input. */
  readonly target: string;
  readonly attempt: string;
  readonly json: boolean;
  readonly quiet: boolean;
  readonly sameKey: boolean;
  /** Number of the target's line. */
  readonly line: number | null;
  /** Score, 0..1, below which the exit status is 1. */
  readonly failUnder: number | null;
  readonly targetHearing: HearingPlan;
  readonly attemptHearing: HearingPlan;
}

interface Given {
  readonly json?: true;
  readonly quiet?: true;
  readonly sameKey?: true;
  readonly line?: number;
  readonly failUnder?: number;
  readonly source?: HearRequest['source'];
  readonly targetSource?: HearRequest['source'];
  readonly from?: number;
  readonly to?: number;
}

const EXAMPLES: readonly Example[] = [
  ['cantilena compare song.txt take.m4a', "what you played, beside the song's corrected list"],
  ['cantilena compare song.txt take.m4a --line 3', 'you tried its third line only'],
  [
    'cantilena compare song.mp3 take.mid --target-source mix --same-key',
    'beside a song with a band, in its own key',
  ],
  ['cantilena compare song.mid take.mid --fail-under 0.9', 'for scripts: exit status 1 below nine in ten'],
];

export function compareCommand(done: (plan: ComparePlan) => void): Command {
  const command = new Command('compare')
    .description('Compares what you played or sang with a melody, note by note, in any key and at any speed.')
    .usage('<target> <attempt> [options]')
    .argument('[target]', `the melody: ${INPUT_KINDS}`)
    .argument('[attempt...]', 'what you played or sang: the same kinds')
    .helpOption('-h, --help', 'print this')
    .action((target: string | undefined, attempts: string[], given: Given) =>
      done(planFrom(target === undefined ? [] : [target, ...attempts], given)),
    );
  addGroup(command, 'What is compared:', [
    flag('--same-key', 'only the key of the melody is right, in any octave'),
    taking('--line <number>', 'one line of the melody was attempted', parseLine),
  ]);
  addGroup(command, 'What is written:', [
    flag('--json', 'print the comparison as JSON'),
    taking('--fail-under <score>', 'exit status 1 where the score (0 to 1) is lower', parseScore),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, HEARING_HEADING, [
    taking(
      '--source <kind>',
      'your attempt: solo (default), one voice or piano; mix, with a band; auto',
      oneOf(['auto', 'solo', 'mix']),
    ),
    taking(
      '--target-source <kind>',
      'the same of the melody (default: auto)',
      oneOf(['auto', 'solo', 'mix']),
    ),
    taking('--from <time>', "start of the melody's recording to hear, 1:23.5 or seconds", parseTime),
    taking('--to <time>', 'end of it', parseTime),
  ]);
  return addExamples(command, EXAMPLES);
}

function parseScore(option: string, text: string): number {
  const score = /^\d*\.?\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(score >= 0 && score <= 1)) throw wrongValue(option, text, 'a score from 0 to 1', '0.9');
  return score;
}

function planFrom(inputs: readonly string[], given: Given): ComparePlan {
  const [target, attempt] = inputs;
  const example = 'as in cantilena compare song.txt take.m4a';
  if (target === undefined) {
    throw new UsageError(`there is nothing to compare: name the melody and your attempt, ${example}.`);
  }
  if (attempt === undefined) {
    throw new UsageError(
      `only ${target} was named: name the melody first and then your attempt, ${example}.`,
    );
  }
  if (inputs.length > 2) {
    throw new UsageError(
      `two inputs are compared, and ${inputs.length} were given (${inputs.join(', ')}): a name with spaces needs quotes.`,
    );
  }
  checkNamed(target);
  checkNamed(attempt);
  if (target === '-' && attempt === '-') {
    throw new UsageError('only one of the two can come from standard input: name a file for the other.');
  }
  const { json, quiet, sameKey, line, failUnder, source, targetSource, from, to } = given;
  const part = { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
  return {
    target,
    attempt,
    json: json ?? false,
    quiet: quiet ?? false,
    sameKey: sameKey ?? false,
    line: line ?? null,
    failUnder: failUnder ?? null,
    targetHearing: hearingPlanOf({
      ...part,
      ...(targetSource === undefined ? {} : { source: targetSource }),
    }),
    attemptHearing: hearingPlanOf(source === undefined ? {} : { source }),
  };
}
