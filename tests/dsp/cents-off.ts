/** How far a partial of a sound lies from a frequency, from the phase that it gains on it. */
const FRAME = 2048;
const HOP = 512;
const WINDOW = Float64Array.from(
  { length: FRAME },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / FRAME),
);

/**
 * Cents by which the component nearest to `hz` (within some 20 Hz) lies above it, between two times in seconds: the slope
 * of its phase against a tone of `hz`, a straight line fitted with the power as weight.
 */
export function centsOff(
  samples: Float32Array,
  rate: number,
  hz: number,
  [from, to]: readonly [number, number],
): number {
  const points: { t: number; phase: number; weight: number }[] = [];
  let last = 0;
  const step = (-2 * Math.PI * hz) / rate;
  const tone = Array.from(WINDOW, (w, i) => ({ re: w * Math.cos(step * i), im: w * Math.sin(step * i) }));
  for (let at = Math.round(from * rate); at + FRAME < to * rate; at += HOP) {
    let re = 0;
    let im = 0;
    for (let i = 0; i < FRAME; i++) {
      re += tone[i]!.re * samples[at + i]!;
      im += tone[i]!.im * samples[at + i]!;
    }
    const turned = Math.atan2(im, re) + step * at;
    const phase = turned + 2 * Math.PI * Math.round((last - turned) / (2 * Math.PI));
    points.push({ t: at / rate, phase, weight: re * re + im * im });
    last = phase;
  }
  const sum = (of: (p: (typeof points)[number]) => number) =>
    points.reduce((s, p) => s + p.weight * of(p), 0);
  const weight = sum(() => 1);
  const t0 = sum((p) => p.t) / weight;
  const phase0 = sum((p) => p.phase) / weight;
  const slope = sum((p) => (p.t - t0) * (p.phase - phase0)) / sum((p) => (p.t - t0) ** 2);
  return 1200 * Math.log2(1 + slope / (2 * Math.PI * hz));
}
