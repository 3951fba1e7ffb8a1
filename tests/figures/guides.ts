/** What guides are made of: how a piano's tone dies away, and how a recording is slowed around an attack. */
import { stringModes } from '../../src/audio/piano/strings.js';
import { findAttacks } from '../../src/dsp/stretch/attacks.js';
import { stretch } from '../../src/dsp/stretch/stretch.js';
import { amplitudeToDb, midiToHz } from '../../src/units.js';
import { envelope } from './envelope.js';
import type { Sound } from './sounds.js';
import {
  at,
  clock,
  curve,
  frame,
  type Look,
  type Panel,
  panel,
  rulers,
  sheet,
  stroke,
  upright,
} from './svg.js';

/** Middle C, mezzo forte, and the partials of it that are shown. */
const KEY = 60;
const VELOCITY = 0.6;
const PARTIALS: readonly (readonly [number, Look])[] = [
  [1, 'ink'],
  [2, 'blue'],
  [5, 'orange'],
];
const STEP_SECONDS = 0.02;

export function pianoFigure(): string {
  const p = panel([0, 5], [-75, 0], [50, 480]);
  const modes = stringModes(KEY, VELOCITY);
  const levels = PARTIALS.map(([partial, look]) => {
    const own = modes.filter(({ hz }) => Math.round(hz / midiToHz(KEY)) === partial);
    const db = Array.from({ length: Math.round(5 / STEP_SECONDS) + 1 }, (_, i) => {
      const t = i * STEP_SECONDS;
      const part = (of: (angle: number) => number) =>
        own.reduce((sum, { hz, amplitude, phase, decay }) => {
          return sum + amplitude * Math.exp(-decay * t) * of(2 * Math.PI * hz * t + phase);
        }, 0);
      return amplitudeToDb(Math.hypot(part(Math.cos), part(Math.sin)));
    });
    return { partial, look, db };
  });
  const loudest = Math.max(...levels.map(({ db }) => Math.max(...db)));
  return sheet(
    570,
    'How a tone of the piano dies away',
    'Levels of the first, second and fifth partial of middle C over five seconds, in decibels. Each falls fast at first and slowly afterwards, in waves, and higher partials fall faster.',
    [
      rulers(p, new Map([0, -20, -40, -60].map((db) => [db, `${db} dB`.replace('-', '−')]))),
      ...levels.map(({ look, db }) =>
        curve(
          db.map((value, i) => {
            const level = value - loudest;
            return level > -75 ? at(p, i * STEP_SECONDS, level) : null;
          }),
          look,
        ),
      ),
      frame(p, 'middle C: the first partial (topmost), the second (below it), the fifth (dashes)'),
      clock(p),
    ],
  );
}

/** Which attack of the recording is shown, and how much around it, in seconds. */
const ATTACK = 4;
const BEFORE_SECONDS = 0.3;
const SHOWN_SECONDS = 1.2;
const SPEED = 0.5;

export function stretchFigure({ recording: { samples, sampleRate } }: Sound): string {
  const attack = findAttacks(samples, sampleRate)[ATTACK]!;
  const around = (sound: Float32Array, sample: number) =>
    sound.subarray(Math.round(sample - BEFORE_SECONDS * sampleRate));
  const rows = [
    { p: shownAt([50, 250]), sound: around(samples, attack), heading: 'as played' },
    {
      p: shownAt([310, 510]),
      sound: around(stretch(samples, sampleRate, SPEED), attack / SPEED),
      heading: 'at half the speed: the blow (dashes) is as steep, the ringing twice as long',
    },
  ];
  return sheet(
    600,
    'A recording slowed',
    'Two panels of 1.2 seconds with the loudness of a piano over time, the same note struck at the same place in both. Above, as played, another note follows within half a second. Below, at half the speed: the note rises as steeply, and what rings before and after it is drawn out to twice the length.',
    [
      ...rows.map(({ p, sound }) => envelope(sound, sampleRate, p)),
      ...rows.map(({ p }) => stroke(upright(p.time.place(BEFORE_SECONDS), p.top, p.bottom), 'orange', 3)),
      ...rows.map(({ p, heading }) => frame(p, heading)),
      clock(rows[1]!.p),
    ],
  );
}

const shownAt = (rows: readonly [number, number]): Panel => panel([0, SHOWN_SECONDS], [-0.6, 0.6], rows);
