/**
 * Draws the figures of docs/how-it-works.md from what the program makes of the recordings in fixtures/, into docs/images:
 * npm run figures [-- NAME …].
 */
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { FIGURES } from './figures.js';
import { createSounds } from './sounds.js';

const IMAGES = resolve(import.meta.dirname, '../../docs/images');
const sounds = createSounds();
const names = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(FIGURES);
for (const name of names) {
  const draw = FIGURES[name];
  if (draw === undefined) throw new Error(`there is no figure ${name}: ${Object.keys(FIGURES).join(', ')}`);
  writeFileSync(join(IMAGES, `${name}.svg`), await draw(sounds));
}
