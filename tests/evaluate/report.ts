/** Scores to text: aligned tables for people. */
import { type Claim, calibrationTable, expectedCalibrationError } from './calibration.js';
import { type Mean, meansOf, type NoteRow, type Row } from './evaluate.js';
import type { MelodyScores } from './melody-scores.js';

/** Columns padded to their widest cell: the first to the left, the others to the right. */
export function alignTable(head: readonly string[], body: readonly (readonly string[])[]): string {
  const widths = head.map((cell, i) => Math.max(cell.length, ...body.map((row) => row[i]!.length)));
  const line = (row: readonly string[]) =>
    row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join('  ');
  return [head, ...body].map((row) => line(row).trimEnd()).join('\n');
}

function three(value: number): string {
  return value.toFixed(3);
}

function melodyCells(melody: MelodyScores | null): string[] {
  if (!melody) return ['', '', '', '', ''];
  return [melody.vr, melody.vfa, melody.rpa, melody.rca, melody.oa].map(three);
}

const NOTE_HEAD = ['COn', 'COnP', 'COnPOff', '−med COnP', '−med COnPOff'];
const END_HEAD = ['VR', 'VFA', 'RPA', 'RCA', 'OA', 'decode', 'hear'];

function noteCells(notes: NoteRow | null): string[] {
  if (!notes) return ['', '', '', '', '', '', ''];
  const { raw, aligned, pitchDifferenceCents, onsetDifferenceMs } = notes;
  return [
    ...[raw.con, raw.conp, raw.conpoff, aligned.conp, aligned.conpoff].map((score) => three(score.f)),
    pitchDifferenceCents.toFixed(0),
    onsetDifferenceMs === null ? '' : onsetDifferenceMs.toFixed(0),
  ];
}

function rowCells(row: Row): string[] {
  return [
    `${row.group} ${row.name} ${row.reading}`.trim(),
    row.taken ?? '',
    row.seconds.toFixed(1),
    `${row.notes?.referenceCount ?? '–'}/${row.estimateCount}`,
    ...noteCells(row.notes),
    ...melodyCells(row.melody),
    three(row.decodeShare),
    three(row.hearShare),
  ];
}

function noteMeanCells(notes: Mean['notes']): string[] {
  if (!notes) return ['', '', '', '', ''];
  const { con, conp, conpoff, alignedConp, alignedConpoff } = notes;
  return [con, conp, conpoff, alignedConp, alignedConpoff].map(three);
}

function meanCells(mean: Mean): string[] {
  return [
    mean.label,
    String(mean.count),
    ...noteMeanCells(mean.notes),
    ...melodyCells(mean.melody),
    three(mean.decodeShare),
    three(mean.hearShare),
  ];
}

/** What was claimed of every note; a recording with two annotators counts once, by the first. */
function claimsIn(rows: readonly Row[]): Claim[] {
  return rows.filter((r) => r.reading === '' || r.reading === 'A1').flatMap((r) => r.notes?.claims ?? []);
}

function calibrationText(claims: readonly Claim[]): string {
  const table = calibrationTable(claims);
  const body = table
    .filter((bin) => bin.count > 0)
    .map((bin) => [
      `${bin.from.toFixed(1)}–${bin.to.toFixed(1)}`,
      String(bin.count),
      three(bin.confidence),
      three(bin.right),
    ]);
  return `${alignTable(['confidence', 'notes', 'mean', 'right'], body)}\nexpected calibration error ${three(expectedCalibrationError(table))}`;
}

/** The whole report: a row a recording, means by group, and the table of confidence. */
export function reportText(rows: readonly Row[]): string {
  const head = ['recording', 'as', 's', 'true/heard', ...NOTE_HEAD, 'cents', 'ms', ...END_HEAD];
  const meanHead = ['mean of', 'rows', ...NOTE_HEAD, ...END_HEAD];
  const claims = claimsIn(rows);
  return [
    alignTable(head, rows.map(rowCells)),
    alignTable(meanHead, meansOf(rows).map(meanCells)),
    ...(claims.length > 0 ? [calibrationText(claims)] : []),
    'F-measures; −med: the median pitch difference (cents, estimate − reference) taken out; ms: median onset\n' +
      'difference (estimate − reference); decode, hear: time over the recording’s length, one thread.',
  ].join('\n\n');
}

/** The same as data. */
export function reportJson(rows: readonly Row[]): string {
  const table = calibrationTable(claimsIn(rows));
  const recordings = rows.map(({ notes, ...rest }) => ({ ...rest, notes: notes && withoutClaims(notes) }));
  const calibration = { table, error: expectedCalibrationError(table) };
  return JSON.stringify({ recordings, means: meansOf(rows), calibration }, null, 1);
}

function withoutClaims({ claims: _, ...rest }: NoteRow): Omit<NoteRow, 'claims'> {
  return rest;
}
