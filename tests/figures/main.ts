/**
 * Draws the figures of docs/how-it-works.md from what the program makes of the recordings in fixtures/, and the picture of a
 * sheet in the README where Chromium is installed, into docs/images: npm run figures [-- NAME …].
 */
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { CHROMIUM } from '../sheet/chromium.js';
import { FIGURES } from './figures.js';
import { sheetPicture } from './sheet-picture.js';
import { createSounds } from './sounds.js';

const IMAGES = resolve(import.meta.dirname, '../../docs/images');
const SHEET = 'sheet';
const sounds = createSounds();
const names = process.argv.length > 2 ? process.argv.slice(2) : [...Object.keys(FIGURES), SHEET];
for (const name of names) {
  const draw = FIGURES[name];
  if (draw !== undefined) {
    writeFileSync(join(IMAGES, `${name}.svg`), await draw(sounds));
  } else if (name !== SHEET) {
    throw new Error(`there is no figure ${name}: ${Object.keys(FIGURES).join(', ')}, ${SHEET}`);
  } else if (CHROMIUM === null) {
    console.error('left as it is: sheet.png; install chromium, or set CHROMIUM to it');
  } else {
    writeFileSync(join(IMAGES, `${SHEET}.png`), await sheetPicture(await sounds('grace')));
  }
}
