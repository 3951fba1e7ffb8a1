/** An attempt beside its melody: which note answers which, and what became of it. */
import type { Melody } from '../../src/melody.js';
import { compare } from '../../src/practice/compare/compare.js';
import type { NoteVerdict, SideNote, Verdict } from '../../src/practice/compare/types.js';
import { noteName } from '../../src/theory/pitch-names.js';
import { axis } from '../../src/write/plot/plot-scale.js';
import { withoutOctave, withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { across, sheet, stroke, words } from './svg.js';

/** The attempt: two semitones higher, four fifths as fast. */
const HIGHER = 2;
const SLOWER = 1.25;
/** Notes of the melody, from 1: one is left out, one is a semitone too high, and before one an extra note is played. */
const MISSED = 5;
const WRONG = 8;
const EXTRA_BEFORE = 11;
/** After this note the player stops, waits, and begins again at `AGAIN_AT`. */
const BREAKS_AFTER = 13;
const AGAIN_AT = 11;
const WAITED_SECONDS = 1.2;
const EXTRA_SECONDS = 0.2;
/** Notes narrower than this are short. */
const SHORT = 24;
const ABOVE = 150;
const BELOW = 330;

export function compareFigure({ melody }: Sound): string {
  const attempt = attemptAt(melody);
  const target = { ...melody, heard: false };
  const side = { notes: attempt, tuningCents: 0, heard: false };
  const { notes, transposition, tempoRatio } = compare(target, side, { sameKey: false, line: null });
  const times = axis([0, attempt.at(-1)!.end + 0.2], [150, 1420]);
  const span = ({ start, end }: SideNote) => [times.place(start), times.place(end)] as const;
  const middle = (note: SideNote) => (span(note)[0] + span(note)[1]) / 2;
  const row = (of: readonly SideNote[], y: number) =>
    stroke(
      of.map((note) => across(span(note)[0] + 2, Math.max(span(note)[0] + 6, span(note)[1] - 2), y)).join(''),
      'thick',
    );
  const links = (isRight: boolean) =>
    notes.flatMap(({ target: t, attempt: a, verdict }) =>
      t === null || a === null || (verdict === 'right') !== isRight
        ? []
        : [
            `M${Math.round(middle(melody.notes[t - 1]!))} ${ABOVE + 14}L${Math.round(middle(attempt[a - 1]!))} ${BELOW - 14}`,
          ],
    );
  // Names of short notes beside each other give way.
  const isShort = (note: SideNote | undefined) => note !== undefined && span(note)[1] - span(note)[0] < SHORT;
  const labels = (of: readonly SideNote[], y: number) =>
    of.map((note, i) => {
      const giving = isShort(note) && isShort(of[i + 1]) ? -SHORT / 2 : 0;
      return words(middle(note) + giving, y, withSigns(withoutOctave(note.name)), {
        anchor: 'middle',
        size: 22,
      });
    });
  const verdicts = notes.filter(({ verdict }) => verdict !== 'right');
  return sheet(
    470,
    'An attempt beside its melody',
    `Above, the notes of a melody in time; below, those of an attempt, ${transposition} semitones higher and ${tempoRatio!.toFixed(2)} times as fast. Lines join each note with the one that answers it. Of the others: ${verdicts.map(({ verdict, target: t, attempt: a }) => `${verdict}, ${t === null ? `note ${a} of the attempt` : `note ${t}`}`).join('; ')}.`,
    [
      words(
        20,
        40,
        `the attempt: ${transposition} semitones higher, ${tempoRatio!.toFixed(2)} times as fast`,
        { bold: true },
      ),
      words(20, ABOVE + 9, 'melody'),
      words(20, BELOW + 9, 'attempt'),
      row(melody.notes, ABOVE),
      row(attempt, BELOW),
      stroke(links(true).join(''), 'blue', 3),
      stroke(links(false).join(''), 'orange', 4),
      ...labels(melody.notes, ABOVE - 24),
      ...labels(attempt, BELOW + 40),
      ...inARow(verdicts).map(({ verdict, of }) => {
        const isMissed = verdict === 'missed';
        const xs = of.map(({ target: t, attempt: a }) =>
          middle(isMissed ? melody.notes[t! - 1]! : attempt[a! - 1]!),
        );
        const x = xs.reduce((sum, one) => sum + one, 0) / xs.length;
        const y = isMissed ? ABOVE - 60 : BELOW + (verdict === 'extra' ? 112 : 78);
        return words(x, y, verdict, { anchor: 'middle', bold: true, size: 22 });
      }),
    ],
  );
}

/** Verdicts that follow each other and are the same, as one. */
function inARow(verdicts: readonly NoteVerdict[]): { verdict: Verdict; of: NoteVerdict[] }[] {
  const rows: { verdict: Verdict; of: NoteVerdict[] }[] = [];
  for (const one of verdicts) {
    const last = rows.at(-1);
    if (last?.verdict === one.verdict) last.of.push(one);
    else rows.push({ verdict: one.verdict, of: [one] });
  }
  return rows;
}

function attemptAt({ notes }: Melody): SideNote[] {
  const played: SideNote[] = [];
  let later = 0;
  const play = (number: number, midi: number, start: number, end: number) =>
    played.push({
      ...notes[number - 1]!,
      midi,
      pitch: midi,
      name: noteName(midi, { tonic: 'C', mode: 'major' }),
      start: SLOWER * start + later,
      end: SLOWER * end + later,
      confidence: 1,
      other: null,
    });
  const playOn = (from: number, to: number) => {
    for (let number = from; number <= to; number++) {
      const { midi, start, end } = notes[number - 1]!;
      const moved = midi + HIGHER + (number === WRONG ? 1 : 0);
      if (number === MISSED) continue;
      play(number, moved, start, end);
      if (number === EXTRA_BEFORE - 1) play(number, moved + 3, end, end + EXTRA_SECONDS);
    }
  };
  playOn(1, BREAKS_AFTER);
  later += SLOWER * (notes[BREAKS_AFTER - 1]!.end - notes[AGAIN_AT - 1]!.start) + WAITED_SECONDS;
  playOn(AGAIN_AT, notes.length);
  return played;
}
