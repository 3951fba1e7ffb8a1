import { scaleJson } from '../json/scale-json.js';
import { rounded } from '../numbers.js';
import type { ScalesSheet } from './types.js';

/** Decimals of a time, in seconds. */
const TIME = 4;

/**
 * The scales as one JSON object (docs/commands.md, "scales"): `scales`, best first, as in the melody's JSON; `regions`
 * where the key changes; `notes`, so that numbers can be looked up. One item to a line of text. Ends with a newline.
 */
export function scalesJson({ notes, scales, regions }: ScalesSheet, top: number): string {
  const lists = {
    scales: scales.slice(0, top).map(scaleJson),
    regions: regions.map(({ first, last, scales: own }) => ({
      first,
      last,
      scales: own.slice(0, top).map(scaleJson),
    })),
    notes: notes.map(({ midi, line, bar, start }) => ({
      midi,
      line,
      bar,
      start: start === null ? null : rounded(start, TIME),
    })),
  };
  const parts = Object.entries(lists).map(([key, items]) => `  ${JSON.stringify(key)}: ${list(items)}`);
  return `{\n${parts.join(',\n')}\n}\n`;
}

function list(items: readonly unknown[]): string {
  if (items.length === 0) return '[]';
  return `[\n${items.map((item) => `    ${JSON.stringify(item)}`).join(',\n')}\n  ]`;
}
