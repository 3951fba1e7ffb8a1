/**
 * The strings of one piano key: what sounds, how loud and how long, before anything is rendered.
 *
 * A model and no recording: a stiff string's partials, struck near its end by a felt hammer, two or three strings a
 * key that first move together and then apart.
 */
import { seeded } from '../../dsp/seeded.js';
import { midiToHz } from '../../units.js';

/** A decaying sine. */
export interface Mode {
  /** Hertz. */
  readonly hz: number;
  /** Linear amplitude when struck. */
  readonly amplitude: number;
  /** Radians at the start, of a sine. */
  readonly phase: number;
  /** Nepers a second while the key is held. */
  readonly decay: number;
}

/** Most partials a key: beyond them the hammer leaves less than −60 dB. */
const MOST_PARTIALS = 48;
/** Highest partial, hertz: what lies above is below the noise of the hammer. */
const HIGHEST_PARTIAL_HZ = 12_000;
/** Where the hammer strikes, as a share of the string: about an eighth (Fletcher & Rossing 1998, ch. 12). */
const STRIKE_POINT = 0.121;
/** A string is never quite still where it is struck: the least share of a partial that is left. */
const LEAST_EXCITED = 0.25;

/**
 * Inharmonicity B of a key, in f(n) = n·f0·√(1 + B·n²): the sum of two exponentials that Rigaud, David & Daudet (JASA
 * 133(5), 2013) fit to pianos, with their mean treble line and the bass line of a grand (both from memory): 0.0003 at
 * C4, 0.001 at C5.
 */
export function inharmonicity(midi: number): number {
  return Math.exp(0.0926 * midi - 13.64) + Math.exp(-0.0847 * midi - 5.82);
}

/**
 * Nepers a second that the first partial loses at first: 12 dB/s at C4 and 1.9 times as much an octave higher. Our
 * choice within the range that Fletcher & Rossing (1998, ch. 12) give: some 5 dB/s in the bass, 80 in the top octaves.
 */
function firstDecay(midi: number): number {
  return (12 * 2 ** ((0.92 * (midi - 60)) / 12) + 2) / DB_PER_NEPER;
}

const DB_PER_NEPER = 8.686;

/** How many times faster a partial dies away than the first one: losses in the string grow with frequency squared. */
function decayFactor(hz: number, firstHz: number): number {
  const kilohertz = (hz - firstHz) / 1000;
  return 1 + 0.12 * kilohertz + 0.03 * kilohertz * kilohertz;
}

/**
 * Partials fall with this power of their number beside that, by so much less a unit of velocity above mezzo forte: felt
 * is soft and as wide as a finger, which blurs the pattern of the strike point too (hence its square root).
 */
const ROLL_OFF = 1.25;
const ROLL_OFF_PER_VELOCITY = 0.8;
const MEZZO_FORTE = 0.6;

/**
 * What the hammer leaves of a frequency: a low-pass of 24 dB an octave. Its corner rises a little with the key, and with
 * the blow, since felt is harder the harder it strikes: this is what makes a loud note bright. Corner and slope, and
 * `ROLL_OFF` above, were set so that the first twelve partials of C4 to F#5, struck mezzo forte, lie about where those of
 * a sampled grand do.
 */
function hammerLeaves(hz: number, midi: number, velocity: number): number {
  const corner = 4500 * 2 ** (1.6 * (velocity - MEZZO_FORTE)) * 2 ** ((0.2 * (midi - 60)) / 12);
  return 1 / (1 + (hz / corner) ** 4);
}

/** The soundboard radiates little below its first modes, some 70 Hz (Fletcher & Rossing 1998, ch. 12). */
function boardRadiates(hz: number): number {
  return hz ** 2 / (hz ** 2 + 70 ** 2);
}

/**
 * The strings of a key in three shares: they decay together fast, and what is left, out of step or across the
 * soundboard, decays slowly (Weinreich, JASA 62(6), 1977): two-stage decay, with beats of some tenths of a hertz.
 */
const SHARES = [
  { amplitude: 0.64, decay: 1.2, cents: 0 },
  { amplitude: 0.26, decay: 0.7, cents: 0.55 },
  { amplitude: 0.1, decay: 0.24, cents: -0.7 },
] as const;

/**
 * What sounds when a key is struck, its first partial at equal temperament (A4 = 440 Hz) to a twentieth of a cent in
 * the middle of the keyboard. The power of all modes together is that of a sine of amplitude 1 at any key and blow, so
 * that loudness is a matter of the renderer.
 *
 * @param midi key, MIDI number 0..127, of which a piano has 21..108
 * @param velocity 0..1: how hard the blow; 0.6 is mezzo forte
 */
export function stringModes(midi: number, velocity: number): Mode[] {
  const b = inharmonicity(midi);
  const firstHz = midiToHz(midi);
  const base = firstHz / Math.sqrt(1 + b);
  const random = seeded(midi);
  const rollOff = ROLL_OFF - ROLL_OFF_PER_VELOCITY * (velocity - MEZZO_FORTE);
  const modes: Mode[] = [];
  for (let n = 1; n <= MOST_PARTIALS; n++) {
    const hz = n * base * Math.sqrt(1 + b * n * n);
    if (n > 1 && hz > HIGHEST_PARTIAL_HZ) break;
    // No two partials of a real soundboard are radiated alike: up to 2.5 dB more or less, the first one excepted.
    const board = n === 1 ? 1 : 10 ** ((random() - 0.5) / 4);
    const excited = Math.max(Math.abs(Math.sin(Math.PI * n * STRIKE_POINT)), LEAST_EXCITED);
    const struck = (Math.sqrt(excited) * hammerLeaves(hz, midi, velocity)) / n ** rollOff;
    const amplitude = struck * boardRadiates(hz) * board;
    // Partials that begin in step would pile up to one sharp peak; soundboard and air part them.
    const phase = 2 * Math.PI * random();
    const decay = firstDecay(midi) * decayFactor(hz, firstHz) * (0.85 + 0.3 * random());
    for (const share of SHARES) {
      const cents = share.cents * (n === 1 ? 1 : 0.3 + 0.7 * random());
      modes.push({
        hz: hz * 2 ** (cents / 1200),
        amplitude: amplitude * share.amplitude,
        phase,
        decay: decay * share.decay,
      });
    }
  }
  const power = Math.sqrt(modes.reduce((sum, { amplitude }) => sum + amplitude ** 2, 0));
  return modes.map((mode) => ({ ...mode, amplitude: mode.amplitude / power }));
}
