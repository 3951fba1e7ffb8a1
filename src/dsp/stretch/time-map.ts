/** Where in the recording each moment of the stretched sound comes from. */

/** A moment in both times, in samples. */
export interface Anchor {
  readonly out: number;
  readonly in: number;
}

/** Around an attack so many samples are not stretched, where there is room. */
export interface KeptAroundAttack {
  readonly beforeSamples: number;
  readonly afterSamples: number;
}

/** Share of the way to the neighbouring attack that may be kept: the rest has to take up the stretch. */
const MOST_KEPT_SHARE = 0.3;

/**
 * The map as a line through anchors, both coordinates rising. Every attack falls where even stretching would put it,
 * and around it the line has slope 1; between two attacks the rest is stretched a little more for it (Bonada, ICMC
 * 2000: the time of transients is kept, and what is steady takes up the difference).
 *
 * @param length samples of the recording
 * @param speed recording's seconds a second of the result
 * @param attacks samples, increasing, inside the recording
 */
export function timeMap(
  length: number,
  speed: number,
  attacks: readonly number[],
  { beforeSamples, afterSamples }: KeptAroundAttack,
): Anchor[] {
  const anchors: Anchor[] = [{ out: 0, in: 0 }];
  attacks.forEach((attack, i) => {
    const out = attack / speed;
    const last = i === 0 ? 0 : attacks[i - 1]!;
    const next = attacks[i + 1] ?? length;
    // What is kept must fit in both times.
    const shrink = MOST_KEPT_SHARE * Math.min(1, 1 / speed);
    const before = Math.min(beforeSamples, shrink * (attack - last));
    const after = Math.min(afterSamples, shrink * (next - attack));
    if (before > 0) anchors.push({ out: out - before, in: attack - before });
    if (after > 0) anchors.push({ out: out + after, in: attack + after });
  });
  anchors.push({ out: length / speed, in: length });
  return anchors;
}

/** The map as a function of samples of the result; ask in rising order. */
export function followMap(anchors: readonly Anchor[]): (out: number) => number {
  let at = 0;
  return (out) => {
    while (at + 2 < anchors.length && anchors[at + 1]!.out <= out) at++;
    const from = anchors[at]!;
    const to = anchors[at + 1]!;
    return from.in + ((out - from.out) * (to.in - from.in)) / (to.out - from.out);
  };
}
