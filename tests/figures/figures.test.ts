/** The figures of docs/how-it-works.md are what their program draws, and the page shows them all. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { FIGURES } from './figures.js';
import { createSounds } from './sounds.js';

const DOCS = resolve(import.meta.dirname, '../../docs');
/** Halves of a pixel: another processor's sums may differ a little. */
const NEAR = 3;

/** Of the data of a path, the least and greatest x and y: where a curve breaks may differ by a frame. */
function box(data: string): string {
  let [x, y] = [0, 0];
  const [xs, ys]: [number[], number[]] = [[], []];
  for (const [, command, rest] of data.matchAll(/([MLHVlhvz])([^MLHVlhvz]*)/g)) {
    const [a = 0, b = 0] = rest!.trim().split(/\s+/).filter(Boolean).map(Number);
    if (command === 'M' || command === 'L') [x, y] = [a, b];
    else if (command === 'l') [x, y] = [x + a, y + b];
    else if (command === 'H') x = a;
    else if (command === 'h') x += a;
    else if (command === 'V') y = a;
    else if (command === 'v') y += a;
    xs.push(x);
    ys.push(y);
  }
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].join(' ');
}

/** A figure without its numbers, and they. */
function apart(svg: string): { readonly numbers: readonly number[]; readonly rest: string } {
  const numbers: number[] = [];
  const rest = svg
    .replace(/ d="([^"]*)"/g, (_, data: string) => ` d="${box(data)}"`)
    .replace(/-?\d+(?:\.\d+)?/g, (number) => {
      numbers.push(Number(number));
      return '#';
    });
  return { numbers, rest };
}

describe('the figures', () => {
  const sounds = createSounds();

  test.each(Object.keys(FIGURES))('%s is what npm run figures draws', async (name) => {
    const kept = apart(readFileSync(`${DOCS}/images/${name}.svg`, 'utf8'));
    const drawn = apart(await FIGURES[name]!(sounds));
    expect(drawn.rest).toBe(kept.rest);
    const off = drawn.numbers.map((number, i) => Math.abs(number - kept.numbers[i]!));
    expect(Math.max(...off)).toBeLessThanOrEqual(NEAR);
  });

  test('are shown in the page, each once, with a text alternative', () => {
    const page = readFileSync(`${DOCS}/how-it-works.md`, 'utf8');
    const shown = [...page.matchAll(/!\[([^\]]*)\]\(images\/([a-z-]+)\.svg\)/g)];
    expect(shown.map(([, , name]) => name).sort()).toEqual(Object.keys(FIGURES).sort());
    for (const [, words] of shown) expect(words!.length).toBeGreaterThan(40);
  });

  test('are all of the drawings in the folder', () => {
    const files = readdirSync(`${DOCS}/images`).filter((file) => file.endsWith('.svg'));
    expect(files.sort()).toEqual(
      Object.keys(FIGURES)
        .map((name) => `${name}.svg`)
        .sort(),
    );
  });
});
