/** What changes from frame to frame: the light, the height of the whole line, the size of its branches. */
import type { Frame } from "../picture/api.ts";
import { backgroundOf } from "./background.ts";
import { GOOD_DAY, type Signs } from "./diagnose-good-day.ts";
import { middleCurve } from "./diagnose-signs.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { lightOf, sameSize } from "./frame-light.ts";
import { roughTrace } from "./rough-trace.ts";

/** Fewer frames say nothing of change. */
export const FEWEST = 3;
/** Rows per column beyond which the centre of the light is no measure. */
const STEEPEST = 0.7;

export interface FrameSigns {
  readonly change: NonNullable<Signs["frames"]>;
  /** ln of the light lost, height (pixels) and size of the branches (share), mean of all frames against the fitted one */
  readonly loss: number;
  readonly offset: number;
  readonly size: number;
}

/**
 * Each frame's trace against the fitted curve of one: height = a + b·(branches). a sways with warm air outside
 * the tube, which bends all colours alike; b with the vapour's own gradient; the light with smoke.
 * @param frames hot frames of one bench, of the size of the picture that was fitted
 */
export function frameSigns(fitted: FittedPicture, frames: readonly Frame[]): FrameSigns | null {
  if (frames.length < FEWEST) return null;
  const { hot, reference } = fitted;
  const { values } = fitted.fit;
  const curve = middleCurve(fitted, hot.columns);
  const n = hot.columns;
  const branch = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const u = k + 0.5 - n / 2;
    branch[k] = curve.place[k] - values.offset - u * (values.slope + u * values.bend);
  }
  const gentle = Uint8Array.from(branch, (_, k) => {
    const inside = k > 3 && k < n - 4 && curve.light[k] > 0.6 && reference[k] > 0;
    return inside && Math.abs(branch[k + 1] - branch[k - 1]) < 2 * STEEPEST ? 1 : 0;
  });
  const passed = new Float64Array(n);
  for (let k = 0; k < n; k++) passed[k] = reference[k] * curve.light[k];
  const lights: number[] = [];
  const heights: number[] = [];
  const sizes: number[] = [];
  for (const frame of frames) {
    sameSize({ ...frame, columns: n, rows: hot.rows }, frame, "frames", "hot");
    const light = lightOf(frame, fitted.gamma, "frames");
    const background = backgroundOf(light);
    const trace = roughTrace(light, fitted.geometry, background.level, background.noise);
    const line = { w: 0, x: 0, y: 0, xx: 0, xy: 0 };
    let sum = 0;
    let full = 0;
    for (let k = 0; k < n; k++) {
      if (gentle[k] === 0 || !Number.isFinite(trace.sigma[k])) continue;
      sum += trace.light[k];
      full += passed[k];
      const w = 1 / trace.sigma[k] ** 2;
      const y = trace.height[k] - curve.place[k];
      line.w += w;
      line.x += w * branch[k];
      line.y += w * y;
      line.xx += w * branch[k] ** 2;
      line.xy += w * branch[k] * y;
    }
    const determinant = line.w * line.xx - line.x ** 2;
    if (!(determinant > 0) || !(sum > 0 && full > 0)) continue;
    lights.push(Math.log(sum / full));
    heights.push((line.xx * line.y - line.x * line.xy) / determinant);
    sizes.push((line.w * line.xy - line.x * line.y) / determinant);
  }
  if (lights.length < FEWEST) return null;
  return {
    change: {
      flicker: scatter(lights) / GOOD_DAY.flicker,
      sway: scatter(heights) / GOOD_DAY.sway,
      shimmer: scatter(sizes) / GOOD_DAY.shimmer,
    },
    loss: -mean(lights),
    offset: mean(heights),
    size: mean(sizes),
  };
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

function scatter(values: readonly number[]): number {
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, v) => sum + (v - middle) ** 2, 0) / (values.length - 1));
}
