/** What the fit reads of a part: its stretches around printed fingers, with classes and points worked out once. */
import { TEMPLATE_NAMES, TEMPLATES, type TemplateName } from '../../../src/hand/finger-classes.js';
import { NEEDS, rulePoints, shareOf } from '../../../src/hand/merits.js';
import type { SpanTable } from '../../../src/hand/spans.js';
import { strokesOf } from '../../../src/hand/strokes.js';
import type { Part } from './parts.js';

/** Notes without a printed finger beside a fingered one that still tell something of it. */
const BESIDE = 3;

/** Notes in succession, at least three. */
export interface Stretch {
  readonly count: number;
  /** 0..4, or −1 where nothing is printed. */
  readonly fingers: Int8Array;
  /** Class by template; −1 where the template needs notes that are not there. */
  readonly classes: Readonly<Record<TemplateName, Int16Array>>;
  /** Share of each template by note. */
  readonly shares: Readonly<Record<TemplateName, Float32Array>>;
  readonly points: readonly ReturnType<typeof rulePoints>[];
}

export function stretchesOf(part: Part, spans: SpanTable): Stretch[] {
  const strokes = strokesOf(part.notes);
  const near = part.printed.map((_, i) =>
    part.printed.slice(Math.max(0, i - BESIDE), i + BESIDE + 1).some((finger) => finger !== null),
  );
  const stretches: Stretch[] = [];
  for (let from = 0; from < near.length; from++) {
    if (!near[from]) continue;
    let to = from;
    while (to < near.length && near[to]) to++;
    if (to - from >= 3) stretches.push(stretchOf(part, strokes, from, to, spans));
    from = to;
  }
  return stretches;
}

function stretchOf(
  part: Part,
  strokes: ReturnType<typeof strokesOf>,
  from: number,
  to: number,
  spans: SpanTable,
): Stretch {
  const indices = Array.from({ length: to - from }, (_, k) => from + k);
  return {
    count: indices.length,
    fingers: Int8Array.from(indices, (i) => (part.printed[i] ?? 0) - 1),
    classes: Object.fromEntries(
      TEMPLATE_NAMES.map((name) => {
        const { over, of } = TEMPLATES[name];
        return [name, Int16Array.from(indices, (i, k) => (k < NEEDS[over] ? -1 : of(strokes, i)))];
      }),
    ) as Record<TemplateName, Int16Array>,
    shares: Object.fromEntries(
      TEMPLATE_NAMES.map((name) => [
        name,
        Float32Array.from(indices, (i) => shareOf(strokes, i, TEMPLATES[name].over)),
      ]),
    ) as Record<TemplateName, Float32Array>,
    points: indices.map((i) => rulePoints(strokes, i, spans)),
  };
}
