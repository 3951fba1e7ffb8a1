import type { Comparison } from '../practice/compare/types.js';
import { rounded } from '../write/numbers.js';

/** Decimals: tempo and score to a thousandth, cents to a tenth, seconds to a millisecond. */
const RATIO = 3;
const CENTS = 1;
const SECONDS = 3;

/** The comparison as one JSON object (docs/commands.md), a note, a line and a mistake to a line of text. */
export function comparisonJson({ transposition, tempoRatio, notes, score, summary }: Comparison): string {
  const verdicts = notes.map((note) => ({
    target: note.target,
    attempt: note.attempt,
    verdict: note.verdict,
    semitones: note.semitones,
    cents: rounded(note.cents, CENTS),
    seconds: rounded(note.seconds, SECONDS),
    probable: note.probable,
    sung: note.sung === null ? null : rounded(note.sung, CENTS),
    tried: note.tried,
  }));
  return `{
  "transposition": ${transposition},
  "tempoRatio": ${tempoRatio === null ? 'null' : rounded(tempoRatio, RATIO)},
  "notes": ${list(verdicts, '    ')},
  "score": ${rounded(score, RATIO)},
  "summary": {
    "lookFirst": ${summary.lookFirst},
    "lines": ${list(summary.lines, '      ')},
    "mistakes": ${list(summary.mistakes, '      ')}
  }
}
`;
}

function list(items: readonly unknown[], indent: string): string {
  if (items.length === 0) return '[]';
  return `[\n${items.map((item) => `${indent}${JSON.stringify(item)}`).join(',\n')}\n${indent.slice(2)}]`;
}
