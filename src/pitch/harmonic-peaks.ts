import { pairSpectra } from '../dsp/wasm/pair-spectra.js';
import { hannWindow } from '../dsp/window.js';
import { writeWindowed } from '../dsp/windowed.js';
import { midiToHz } from '../units.js';

/**
 * Samples of one spectrum: 64 ms at 16 kHz. On computed voices with vibrato of 30 to 80 cents this left half the
 * error of 128 ms, which averages over the swing.
 */
const WINDOW_SAMPLES = 1024;
/** … padded with as many zeros, so that a parabola finds the top of a peak. */
const FFT_SAMPLES = 2048;
/** Cents on either side of a harmonic in which its peak is looked for: two bins of the path. */
const REACH_CENTS = 40;
/**
 * Peaks that say more than this, cents, are taken to be another instrument's: believed up to 40, they drew one frame
 * in a hundred over to its pitch (karaoke clips of singers the network was trained on).
 */
const MOST_CENTS = 12;
/** Harmonics are looked at up to here: above, voices are weak and others are loud. */
const HIGHEST_HZ = 4000;
/** Least probability of voice for which the spectrum is asked. */
const LEAST_VOICED = 0.1;

/** A harmonic's peak: how far it lies from where it should, and how much that counts. */
interface Peak {
  readonly cents: number;
  readonly weight: number;
}

/**
 * Pitch to a few cents, from where the harmonics of a roughly known pitch really lie: the tops of the peaks of a
 * spectrum around each harmonic (parabola through the log power, Smith & Serra 1987, "PARSHL"), and of their
 * distances in cents the weighted median, which other instruments' peaks pull less than a mean. A peak counts by
 * its amplitude times its number, since the same error in hertz is less in cents the higher the harmonic.
 *
 * On computed voices whose given pitch was wrong by 5 cents (median), it was then wrong by 1 cent alone, by 1.5
 * with a band as loud, by 2.5 with a band 6 dB louder.
 *
 * @param pitch MIDI numbers; frame t is centred on sample t·hopSamples
 * @param voiced probability of voice of each frame; where it is small the pitch stays as it is
 */
export function pitchFromPeaks(
  samples: Float32Array,
  sampleRate: number,
  hopSamples: number,
  pitch: Float32Array,
  voiced: Float32Array,
): Float32Array {
  const window = hannWindow(WINDOW_SAMPLES);
  const pair = pairSpectra(FFT_SAMPLES, 'power');
  const refined = pitch.slice();

  function refine(t: number, power: Float32Array): void {
    const cents = medianCents(peaksNear(power, midiToHz(pitch[t]), sampleRate / FFT_SAMPLES));
    if (Math.abs(cents) <= MOST_CENTS) refined[t] = pitch[t] + cents / 100;
  }

  const asked = Array.from(pitch.keys()).filter((t) => voiced[t] >= LEAST_VOICED);
  for (let i = 0; i < asked.length; i += 2) {
    const [one, other] = [asked[i], asked[Math.min(i + 1, asked.length - 1)]];
    writeWindowed(samples, one * hopSamples - WINDOW_SAMPLES / 2, window, pair.first);
    writeWindowed(samples, other * hopSamples - WINDOW_SAMPLES / 2, window, pair.second);
    pair.transform();
    refine(one, pair.ofFirst);
    refine(other, pair.ofSecond);
  }
  return refined;
}

function peaksNear(power: Float32Array, hz: number, binHz: number): Peak[] {
  const peaks: Peak[] = [];
  const reach = 2 ** (REACH_CENTS / 1200);
  for (let h = 1; h * hz < HIGHEST_HZ; h++) {
    const from = Math.max(1, Math.round((h * hz) / reach / binHz) - 1);
    const to = Math.round((h * hz * reach) / binHz) + 1;
    let top = from;
    for (let k = from + 1; k <= to; k++) if (power[k] > power[top]) top = k;
    // At the edge it is the flank of a peak that lies elsewhere.
    if (top === from || top === to || power[top - 1] === 0 || power[top + 1] === 0) continue;
    const [before, here, after] = [power[top - 1], power[top], power[top + 1]].map(Math.log);
    const bend = before - 2 * here + after;
    const shift = bend < 0 ? (0.5 * (before - after)) / bend : 0;
    const cents = 1200 * Math.log2(((top + shift) * binHz) / (h * hz));
    if (Math.abs(cents) <= REACH_CENTS) peaks.push({ cents, weight: h * Math.sqrt(power[top]) });
  }
  return peaks;
}

/** The weighted median, 0 of no peaks. */
function medianCents(peaks: Peak[]): number {
  const sorted = peaks.sort((a, b) => a.cents - b.cents);
  const half = sorted.reduce((sum, p) => sum + p.weight, 0) / 2;
  let sum = 0;
  for (const { cents, weight } of sorted) {
    sum += weight;
    if (sum >= half) return cents;
  }
  return 0;
}
