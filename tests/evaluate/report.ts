/** Scores to text: aligned tables for people. */
import { calibrationTable, expectedCalibrationError } from './calibration.js';
import { type Mean, meansOf, type Row } from './evaluate.js';
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

function rowCells(row: Row): string[] {
  return [
    `${row.group} ${row.name} ${row.reading}`.trim(),
    row.taken ?? '',
    row.seconds.toFixed(1),
    `${row.referenceCount}/${row.estimateCount}`,
    three(row.raw.con.f),
    three(row.raw.conp.f),
    three(row.raw.conpoff.f),
    three(row.aligned.conp.f),
    three(row.aligned.conpoff.f),
    row.pitchDifferenceCents.toFixed(0),
    row.onsetDifferenceMs === null ? '' : row.onsetDifferenceMs.toFixed(0),
    ...melodyCells(row.melody),
    three(row.decodeShare),
    three(row.hearShare),
  ];
}

function meanCells(mean: Mean): string[] {
  return [
    mean.label,
    String(mean.count),
    three(mean.con),
    three(mean.conp),
    three(mean.conpoff),
    three(mean.alignedConp),
    three(mean.alignedConpoff),
    ...melodyCells(mean.melody),
    three(mean.decodeShare),
    three(mean.hearShare),
  ];
}

function calibrationText(rows: readonly Row[]): string {
  // A recording with two annotators counts once, by the first.
  const first = rows.filter((r) => r.reading === '' || r.reading === 'A1');
  const table = calibrationTable(first.flatMap((r) => r.claims));
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
  return [
    alignTable(head, rows.map(rowCells)),
    alignTable(meanHead, meansOf(rows).map(meanCells)),
    calibrationText(rows),
    'F-measures; −med: the median pitch difference (cents, estimate − reference) taken out; ms: median onset\n' +
      'difference (estimate − reference); decode, hear: time over the recording’s length, one thread.',
  ].join('\n\n');
}

/** The same as data. */
export function reportJson(rows: readonly Row[]): string {
  const table = calibrationTable(rows.filter((r) => r.reading !== 'A2').flatMap((r) => r.claims));
  const recordings = rows.map(({ claims: _, ...rest }) => rest);
  const calibration = { table, error: expectedCalibrationError(table) };
  return JSON.stringify({ recordings, means: meansOf(rows), calibration }, null, 1);
}
