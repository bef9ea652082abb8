/** Roll and curvature of spectral lines from a lamp frame, before anything is known about wavelengths. */
import type { Background } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";

/** Mean over a band of rows, background taken off. */
export interface Strip {
  /** height of its middle above the frame's middle, pixels */
  readonly y: number;
  readonly profile: Float64Array;
  /** standard deviation of one profile value in the dark */
  readonly noise: number;
}

export interface LineTilt {
  /** rad, as Geometry.roll */
  readonly roll: number;
  /** 1/pixel, as Geometry.smile */
  readonly smile: number;
}

/** From so many strips on every other one will do for a first search. */
const MANY = 24;

/** Cuts the frame into bands of rows and averages each; bands without any line are left out. */
export function stripsOf(frame: LightFrame, background: Background, count: number): Strip[] {
  const { columns, rows, light } = frame;
  const each = Math.max(1, Math.floor(rows / count));
  const strips: Strip[] = [];
  for (let first = 0; first + each <= rows; first += each) {
    const profile = new Float64Array(columns);
    for (let r = first; r < first + each; r++) {
      const base = r * columns;
      for (let c = 0; c < columns; c++) profile[c] += light[base + c];
    }
    let peak = 0;
    for (let c = 0; c < columns; c++) {
      profile[c] = profile[c] / each - background.level;
      peak = Math.max(peak, profile[c]);
    }
    const noise = background.noise / Math.sqrt(each);
    if (peak > 8 * noise) strips.push({ y: rows / 2 - first - each / 2, profile, noise });
  }
  if (strips.length < 3) return strips;
  // A strip that the end of the lines cuts has the right places but half the light: keep it only if not too faint.
  const peaks = strips.map((s) => s.profile.reduce((a, b) => Math.max(a, b), 0));
  const typical = [...peaks].sort((a, b) => a - b)[peaks.length >> 1];
  return strips.filter((_, i) => peaks[i] > 0.3 * typical);
}

/**
 * The shear and bend that pile the strips up most sharply: maximises Σ_c (Σ_k p_k(c + shift_k))² with
 * shift = −y·tan(roll) + smile·y², coarsely on doubled pixels and then by narrowing steps.
 */
export function sharpestTilt(strips: readonly Strip[], columns: number): LineTilt {
  const reach = strips.reduce((most, s) => Math.max(most, Math.abs(s.y)), 1);
  // Half of many strips show where to look.
  const some = strips.filter((_, k) => strips.length < MANY || k % 2 === 0);
  const coarse = some.map((s) => binned(s.profile, 2));
  let best = { lean: 0, bend: 0, score: -1 };
  // End shifts in pixels: lean up to 5°, bend up to 3 % of the half height.
  const mostLean = 0.088 * reach;
  const mostBend = 0.03 * reach;
  for (let lean = -mostLean; lean <= mostLean; lean += 2) {
    for (let bend = -mostBend; bend <= mostBend; bend += 2.5) {
      const score = pileUp(coarse, some, reach, lean / 2, bend / 2, columns >> 1);
      if (score > best.score) best = { lean, bend, score };
    }
  }
  best = {
    ...best,
    score: pileUp(
      strips.map((s) => s.profile),
      strips,
      reach,
      best.lean,
      best.bend,
      columns,
    ),
  };
  const full = strips.map((s) => s.profile);
  for (let step = 1; step > 0.02; step /= 2) {
    let moved = true;
    while (moved) {
      moved = false;
      for (const [dl, db] of [
        [step, 0],
        [-step, 0],
        [0, step],
        [0, -step],
      ] as const) {
        const score = pileUp(full, strips, reach, best.lean + dl, best.bend + db, columns);
        if (score > best.score) {
          best = { lean: best.lean + dl, bend: best.bend + db, score };
          moved = true;
        }
      }
    }
  }
  return { roll: -Math.atan(best.lean / reach), smile: best.bend / (reach * reach) };
}

function binned(profile: Float64Array, by: number): Float64Array {
  const out = new Float64Array(Math.floor(profile.length / by));
  for (let i = 0; i < out.length; i++) for (let k = 0; k < by; k++) out[i] += profile[i * by + k];
  return out;
}

function pileUp(
  profiles: readonly Float64Array[],
  strips: readonly Strip[],
  reach: number,
  lean: number,
  bend: number,
  columns: number,
): number {
  const sum = new Float64Array(columns);
  for (let k = 0; k < profiles.length; k++) {
    const t = strips[k].y / reach;
    const shift = lean * t + bend * t * t;
    const whole = Math.floor(shift);
    const part = shift - whole;
    const p = profiles[k];
    const from = Math.max(0, -whole);
    const to = Math.min(columns, p.length - 1 - whole);
    for (let c = from; c < to; c++) sum[c] += p[c + whole] + part * (p[c + whole + 1] - p[c + whole]);
  }
  let score = 0;
  for (let c = 0; c < columns; c++) score += sum[c] * sum[c];
  return score;
}
