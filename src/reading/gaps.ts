/** Dark gaps in the light left along the spectrum, and which of them belongs to which line of the element. */
import type { RoughTrace } from "./rough-trace.ts";

export interface Gap {
  /** middle of its dark, pixels from the frame's middle along the spectrum */
  readonly along: number;
  /** from there to where half of its depth is reached on the nearer side, pixels */
  readonly halfWidth: number;
  /** share of the light that is missing in the middle, 0…1 */
  readonly depth: number;
}

export interface LineAtPlace {
  readonly id: string;
  /** m, vacuum */
  readonly wavelength: number;
  readonly strength: number;
}

/**
 * Gaps deeper than a quarter of the light and standing out of the noise.
 * @param reference light without vapour per column, in the unit of `trace.light`
 */
export function findGaps(trace: RoughTrace, reference: Float64Array): Gap[] {
  const n = trace.light.length;
  const left = new Float64Array(n);
  const reach = 1;
  for (let k = 0; k < n; k++) {
    let top = 0;
    let bottom = 0;
    for (let i = Math.max(0, k - reach); i <= Math.min(n - 1, k + reach); i++) {
      top += trace.light[i];
      bottom += reference[i];
    }
    left[k] = bottom > 0 ? top / bottom : 1;
  }
  const typical = Float64Array.from(reference).sort()[n >> 1];
  const noise = trace.lightSigma / Math.max(typical, 1e-12) / Math.sqrt(2 * reach + 1);
  const threshold = 1 - Math.max(0.25, 6 * noise);
  const gaps: Gap[] = [];
  const edge = Math.max(4, Math.round(0.006 * n));
  for (let k = edge; k < n - edge; k++) {
    if (left[k] >= threshold) continue;
    let to = k;
    let bottom = k;
    while (to < n - edge && left[to] < threshold) {
      if (left[to] < left[bottom]) bottom = to;
      to++;
    }
    const depth = 1 - left[bottom];
    const half = 1 - depth / 2;
    const low = crossing(left, bottom, -1, half, edge);
    const high = crossing(left, bottom, 1, half, edge);
    // Where the light only falls towards the edge of the picture it ends there: that is no gap in it.
    const least = left[bottom] + RISE * depth;
    const bounded = risesTo(left, bottom, -1, least, edge) && risesTo(left, bottom, 1, least, edge);
    // Smoke beside a line widens its gap on one side, and hardly moves the dark in its middle.
    const dark = 1 - (1 - CORE) * depth;
    const core = (crossing(left, bottom, -1, dark, edge) + crossing(left, bottom, 1, dark, edge)) / 2;
    const narrow = Math.max(Math.min(core - low, high - core), 0.5);
    if (high - low > 1 && bounded) gaps.push({ along: core + 0.5 - n / 2, halfWidth: narrow, depth });
    k = to;
  }
  return gaps;
}

/** Share of a gap's depth up to which its middle is sought. */
const CORE = 0.25;
/** Share of a gap's depth by which the light must rise again on both sides, inside the picture. */
const RISE = 0.15;

function risesTo(left: Float64Array, from: number, step: number, level: number, edge: number): boolean {
  let k = from;
  while (k > edge && k < left.length - 1 - edge && left[k] < level) k += step;
  return left[k] >= level;
}

function crossing(left: Float64Array, from: number, step: number, level: number, edge: number): number {
  let k = from;
  while (k > edge && k < left.length - 1 - edge && left[k] < level) k += step;
  const inner = k - step;
  const span = left[k] - left[inner];
  return span === 0 ? k : inner + step * ((level - left[inner]) / span);
}

export interface Assignment {
  /** gap of each assigned line, in order of wavelength */
  readonly pairs: readonly { readonly line: LineAtPlace; readonly gap: Gap }[];
  /** m per pixel; sign as the picture shows it: negative when mirrored */
  readonly dispersion: number;
}

/** A pairing and how well it agrees with the setup, ln of a likelihood. */
export interface RankedAssignment extends Assignment {
  readonly score: number;
}

/** As many pairings are worth a second look. */
const WORTH_A_LOOK = 6;

/**
 * Which gap is which line: the pairings whose dispersion and place agree best with what the setup expects, and whose
 * widths go with the strengths (half-gap ∝ strength in the self-broadened wing); best first, empty where there is none.
 * Smoke makes gaps too: which of several pairings bends the light is for the trace to say.
 * @param expected place of each line by the setup, pixels from the middle; dispersion in m per pixel
 */
export function assignGaps(
  gaps: readonly Gap[],
  lines: readonly LineAtPlace[],
  expected: { place(wavelength: number): number; readonly dispersion: number },
  columns: number,
): RankedAssignment[] {
  const pairs = pairings(gaps, lines, expected, columns);
  const found = pairs.length > 0 ? pairs : singles(gaps, lines, expected, columns);
  return found.sort((a, b) => b.score - a.score).slice(0, WORTH_A_LOOK);
}

function pairings(
  gaps: readonly Gap[],
  lines: readonly LineAtPlace[],
  expected: { place(wavelength: number): number; readonly dispersion: number },
  columns: number,
): RankedAssignment[] {
  const found: RankedAssignment[] = [];
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length; j++) {
      for (const a of gaps) {
        for (const b of gaps) {
          if (a.along >= b.along) continue;
          const dispersion = (lines[j].wavelength - lines[i].wavelength) / (b.along - a.along);
          const stretch = Math.log(dispersion / expected.dispersion);
          if (!(Math.abs(stretch) < 0.35)) continue;
          const middle = (lines[i].wavelength + lines[j].wavelength) / 2;
          const offset = ((a.along + b.along) / 2 - expected.place(middle)) / columns;
          const ratio = Math.log(a.halfWidth / b.halfWidth / (lines[i].strength / lines[j].strength));
          const bulk = Math.log(a.halfWidth * b.halfWidth * lines[i].strength * lines[j].strength);
          const score = 0.15 * bulk - (stretch / 0.1) ** 2 - (offset / 0.2) ** 2 - 0.3 * ratio * ratio;
          found.push({
            pairs: [
              { line: lines[i], gap: a },
              { line: lines[j], gap: b },
            ],
            dispersion,
            score,
          });
        }
      }
    }
  }
  return found;
}

/** One line: the strongest expected in view goes with the widest gap near its place. */
function singles(
  gaps: readonly Gap[],
  lines: readonly LineAtPlace[],
  expected: { place(wavelength: number): number; readonly dispersion: number },
  columns: number,
): RankedAssignment[] {
  return lines.flatMap((line) =>
    gaps.map((gap) => {
      const offset = (gap.along - expected.place(line.wavelength)) / columns;
      const score = Math.log(line.strength * gap.halfWidth) - (offset / 0.15) ** 2;
      return { pairs: [{ line, gap }], dispersion: expected.dispersion, score };
    }),
  );
}
