/** The figures of docs/how-it-works.md, by the names of their files in docs/images. */
import { barLinesFigure } from './bar-lines.js';
import { barsFigure } from './bars.js';
import { compareFigure } from './compares.js';
import { fingersFigure } from './fingers.js';
import { gradesFigure } from './grades.js';
import { pianoFigure, stretchFigure } from './guides.js';
import { keysFigure } from './keys.js';
import { mixFigure } from './mix.js';
import { pitchFigure } from './pitch.js';
import { scalesFigure } from './scales.js';
import type { Sound, SoundName } from './sounds.js';
import { sourcesFigure } from './sources.js';
import { startsFigure } from './starts.js';

type Sounds = (name: SoundName) => Promise<Sound>;

export const FIGURES: Readonly<Record<string, (sounds: Sounds) => Promise<string>>> = {
  source: async (sounds) =>
    sourcesFigure([
      { name: 'a voice', sound: await sounds('grace') },
      { name: 'a piano', sound: await sounds('piano') },
      { name: 'the voice and a piano', sound: await sounds('song') },
    ]),
  pitch: async (sounds) => pitchFigure(await sounds('grace')),
  mix: async (sounds) => mixFigure(await sounds('song')),
  starts: async (sounds) => startsFigure(await sounds('grace')),
  keys: async (sounds) => keysFigure(await sounds('sharp')),
  'bar-lines': async (sounds) => barLinesFigure(await sounds('grace')),
  bars: async (sounds) => barsFigure(await sounds('grace')),
  scales: async (sounds) => scalesFigure(await sounds('grace')),
  fingers: async (sounds) => fingersFigure(await sounds('low')),
  grades: async (sounds) =>
    gradesFigure(
      { name: 'little star, hummed', sound: await sounds('star') },
      { name: 'Greensleeves, sung', sound: await sounds('low') },
    ),
  compare: async (sounds) => compareFigure(await sounds('grace')),
  piano: async () => pianoFigure(),
  stretch: async (sounds) => stretchFigure(await sounds('piano')),
};
