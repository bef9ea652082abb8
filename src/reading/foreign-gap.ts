/** A dark gap with bent light beside it where the setup has no line: lines of something else are in view. */
import { atomWavelength } from "./curve-model.ts";
import { linesInView } from "./first-look.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { findGaps, type Gap } from "./gaps.ts";
import type { RoughTrace } from "./rough-trace.ts";

/** Depth from which on a gap counts as a line's, share of the light: the lines that bend visibly are darker. */
const DARK = 0.5;
/** How near to a gap's middle one of the element's own lines must lie to explain it, in the gap's half widths. */
const EXPLAINED = 2;
/** Step of the heights across a gap, as a share of that across the setup's own line, from which on the light is bent there. */
const BENT = 0.25;
/** Where beside a gap the heights are taken, in its half widths. */
const BESIDE = [1.3, 4] as const;

/**
 * Smoke and dust are dark and leave the light where it was; around a line it jumps from one side of the undeflected line to the
 * other, and the same way at all lines of one tube.
 * @returns the darkest such gap; null where there is none
 */
export function foreignGap(fitted: FittedPicture): Gap | null {
  const { trace, reference, assignment, setting, setup, map, hot } = fitted;
  const places = assignment.pairs.map(({ gap }) => gap.along);
  const lines = linesInView(setup, map, hot.columns);
  const explained = ({ along, halfWidth }: Gap): boolean => {
    const at = [-1, 1].map((side) => atomWavelength(setting, places, along + side * EXPLAINED * halfWidth));
    return lines.some(({ wavelength }) => wavelength > Math.min(...at) && wavelength < Math.max(...at));
  };
  const own = assignment.pairs.map(({ gap }) => stepAcross(fitted, gap));
  const largest = own.reduce((most, step) => (Math.abs(step) > Math.abs(most) ? step : most), 0);
  const foreign = findGaps(trace, reference).filter((gap) => {
    if (gap.depth < DARK || explained(gap)) return false;
    return stepAcross(fitted, gap) / largest > BENT;
  });
  return foreign.reduce<Gap | null>(
    (best, gap) => (best === null || gap.depth > best.depth ? gap : best),
    null,
  );
}

/** Height of the light on the right of a gap less that on its left, where the two lie on either side of the undeflected line; else 0. Pixels. */
function stepAcross(fitted: FittedPicture, { along, halfWidth }: Gap): number {
  const [near, far] = BESIDE.map((times) => times * halfWidth + 1);
  const left = meanHeight(fitted, along - far, along - near);
  const right = meanHeight(fitted, along + near, along + far);
  return left * right < 0 ? right - left : 0;
}

/** Mean height above the undeflected line, weighted by the light; 0 where there is none. */
function meanHeight({ trace, undeflected }: FittedPicture, from: number, to: number): number {
  const [first, last] = columnsOf(trace, from, to);
  let sum = 0;
  let weight = 0;
  for (let k = first; k < last; k++) {
    if (!Number.isFinite(trace.sigma[k])) continue;
    const u = k + 0.5 - trace.light.length / 2;
    const line = undeflected.offset + u * (undeflected.slope + u * undeflected.bend);
    sum += trace.light[k] * (trace.height[k] - line);
    weight += trace.light[k];
  }
  return weight > 0 ? sum / weight : 0;
}

function columnsOf(trace: RoughTrace, from: number, to: number): [number, number] {
  const n = trace.light.length;
  const at = (u: number): number => Math.min(n, Math.max(0, Math.round(u + n / 2)));
  return [at(from), at(to)];
}
