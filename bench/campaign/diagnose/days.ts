/** Days at the bench: what an ordinary day scatters by, and each fault mild (3 to 5 standard deviations of a good day) or strong. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { CauseCode } from "../../../src/reading/index.ts";

/** How one day's bench differs from its setup. */
export interface Day {
  /** ln of density and gradient over the forecast, both alike */
  readonly columns: number;
  /** ln of density over gradient beyond the forecast */
  readonly apart: number;
  /** the same by a top that is too warm */
  readonly weak: number;
  /** ln of the lines' width over the forecast, from too much gas */
  readonly wide: number;
  readonly inverted: boolean;
  readonly mirrored: boolean;
  /** rad */
  readonly levelTilt: number;
  readonly plumbTilt: number;
  readonly roll: number;
  /** times the opening */
  readonly levelSlit: number;
  /** times the width of a lamp line */
  readonly lampWidth: number;
  /** times the softness of the cold line's edges */
  readonly blur: number;
  readonly exposure: number;
  /** light left by smoke or fog, hot frames only */
  readonly dim: number;
  /** typical loss of patches of smoke, share */
  readonly patches: number;
  /** pixels, hot frames only */
  readonly drift: number;
  /** share of the cold line's light on every pixel */
  readonly stray: number;
  /** share of the picture's width */
  readonly place: number;
  /** other lines than the setup's in view */
  readonly foreign: boolean;
  /** from frame to frame: ln of light, pixels, share of the gradient; null: one frame only */
  readonly frames: { readonly flicker: number; readonly sway: number; readonly shimmer: number } | null;
  readonly lamp: boolean;
  /** good as no metal in the tube's warm part */
  readonly empty: boolean;
}

/** A seeded source of uniform and normal numbers. */
export interface Dice {
  uniform(from: number, to: number): number;
  normal(): number;
  sign(): number;
}

export function dice(seed: number): Dice {
  // Neighbouring seeds begin alike: spread them, and let the first numbers go.
  const generator = xoroshiro128plus(Math.imul(seed + 1, 0x9e3779b1));
  for (let k = 0; k < 40; k++) generator.next();
  const unit = (): number => (generator.next() >>> 0) / 2 ** 32;
  return {
    uniform: (from, to) => from + (to - from) * unit(),
    normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    sign: () => (unit() < 0.5 ? -1 : 1),
  };
}

/** An ordinary day: every setting off by its scatter. */
export function goodDay(d: Dice, lamp: boolean, frames: boolean): Day {
  return {
    columns: 0.12 * d.normal(),
    apart: 0.06 * d.normal(),
    weak: 0,
    wide: 0,
    inverted: false,
    mirrored: false,
    levelTilt: 0.85e-3 * d.normal(),
    plumbTilt: 0.85e-3 * d.normal(),
    roll: 0.85e-3 * d.normal(),
    levelSlit: Math.exp(0.08 * d.normal()),
    lampWidth: Math.exp(0.12 * d.normal()),
    blur: Math.exp(0.12 * d.normal()),
    exposure: 1,
    dim: Math.exp(0.03 * d.normal()),
    patches: 0,
    drift: 0.6 * d.normal(),
    stray: (0.004 / 0.8) * Math.abs(d.normal()),
    place: 0.02 * d.normal(),
    foreign: false,
    frames: frames ? { flicker: 0.01, sway: 0.08, shimmer: 0.01 } : null,
    lamp,
    empty: false,
  };
}

export type Degree = "mild" | "strong";

interface Fault {
  readonly cause: CauseCode;
  /** what must be photographed for it to be seen at all */
  readonly needs?: "lamp" | "frames";
  change(d: Dice, degree: Degree, day: Day): Partial<Day>;
}

const sigmas = (d: Dice, degree: Degree, strong: readonly [number, number]): number =>
  degree === "mild" ? d.uniform(3, 5) : d.uniform(...strong);

/** Every cause but "as predicted". */
export const FAULTS: readonly Fault[] = [
  {
    cause: "tube-cold",
    change: (d, degree) =>
      degree === "mild" ? { columns: d.uniform(-2, -1.6), apart: 0 } : { columns: -6, apart: 0, empty: true },
  },
  { cause: "vapour-thin", change: (d, degree) => ({ columns: -0.12 * sigmas(d, degree, [7, 10]) }) },
  { cause: "vapour-dense", change: (d, degree) => ({ columns: 0.12 * sigmas(d, degree, [7, 10]) }) },
  {
    // Turned or not has no degree: mild is a picture of little light.
    cause: "upside-down",
    change: (_d, degree) => ({ inverted: true, exposure: degree === "mild" ? 0.1 : 1 }),
  },
  {
    cause: "mirrored",
    change: (_d, degree) => ({ mirrored: true, exposure: degree === "mild" ? 0.1 : 1 }),
  },
  {
    cause: "level-slit-tilted",
    change: (d, degree) => ({ levelTilt: d.sign() * 1.2e-3 * sigmas(d, degree, [8, 20]) }),
  },
  {
    cause: "plumb-slit-tilted",
    needs: "lamp",
    change: (d, degree) => ({ plumbTilt: d.sign() * 1.2e-3 * sigmas(d, degree, [8, 20]) }),
  },
  {
    cause: "camera-rolled",
    change: (d, degree) => ({ roll: d.sign() * 1.2e-3 * sigmas(d, degree, [8, 20]) }),
  },
  {
    cause: "level-slit-wide",
    change: (d, degree) => ({ levelSlit: Math.exp(0.08 * sigmas(d, degree, [7, 12])) }),
  },
  {
    cause: "plumb-slit-wide",
    needs: "lamp",
    change: (d, degree) => ({ lampWidth: Math.exp(0.12 * sigmas(d, degree, [6, 9])) }),
  },
  {
    cause: "out-of-focus",
    change: (d, degree) => ({ blur: Math.exp(0.12 * sigmas(d, degree, [7, 12])) }),
  },
  {
    cause: "overexposed",
    change: (d, degree) => ({ exposure: degree === "mild" ? d.uniform(1.33, 1.37) : d.uniform(1.5, 2.5) }),
  },
  {
    cause: "smoke",
    needs: "frames",
    change: (d, degree, day) =>
      d.uniform(0, 1) < 0.5
        ? {
            dim: Math.exp(-2 * 0.03 * sigmas(d, degree, [8, 12])),
            frames: { ...calm(day), flicker: 0.03 * sigmas(d, degree, [7, 12]) },
          }
        : { patches: 0.01 * sigmas(d, degree, [8, 20]), frames: null },
  },
  {
    cause: "convection-shimmer",
    needs: "frames",
    change: (d, degree, day) => ({ frames: { ...calm(day), shimmer: 0.03 * sigmas(d, degree, [7, 12]) } }),
  },
  {
    cause: "air-plume",
    needs: "frames",
    change: (d, degree, day) => ({ frames: { ...calm(day), sway: 0.25 * sigmas(d, degree, [8, 30]) } }),
  },
  { cause: "window-fogged", change: (d, degree) => ({ dim: Math.exp(-0.03 * sigmas(d, degree, [8, 30])) }) },
  {
    cause: "line-drifted",
    change: (d, degree) => ({ drift: d.sign() * 0.6 * sigmas(d, degree, [7, 20]) }),
  },
  {
    cause: "gas-pressure-high",
    change: (d, degree) => ({ apart: 0, wide: 0.06 * sigmas(d, degree, [8, 15]) }),
  },
  {
    cause: "gradient-weak",
    change: (d, degree) => ({ apart: 0, weak: 0.06 * sigmas(d, degree, [7, 12]) }),
  },
  {
    cause: "stray-light",
    change: (d, degree) => ({ stray: (0.004 / 0.8) * sigmas(d, degree, [8, 30]) }),
  },
  {
    cause: "wrong-lines",
    change: (d, degree) => {
      if (degree === "mild") return { place: d.sign() * 0.02 * d.uniform(3, 5) };
      return d.uniform(0, 1) < 0.5 ? { place: d.sign() * d.uniform(0.14, 0.25) } : { foreign: true };
    },
  },
];

function calm(day: Day): NonNullable<Day["frames"]> {
  return day.frames ?? { flicker: 0.01, sway: 0.08, shimmer: 0.01 };
}

export interface CaseOfDay {
  readonly cause: CauseCode;
  readonly degree: Degree | "good";
  readonly seed: number;
  readonly day: Day;
}

/** @param per cases of each cause and degree */
export function faultyDays(per: number, seed: number): CaseOfDay[] {
  const list: CaseOfDay[] = [];
  for (const fault of FAULTS)
    for (const degree of ["mild", "strong"] as const)
      for (let k = 0; k < per; k++) {
        const own = seed + 1000 * FAULTS.indexOf(fault) + (degree === "mild" ? 0 : 500) + k;
        const d = dice(own);
        const lamp = fault.needs === "lamp" || d.uniform(0, 1) < 0.5;
        const good = goodDay(d, lamp, fault.needs === "frames");
        list.push({
          cause: fault.cause,
          degree,
          seed: own,
          day: { ...good, ...fault.change(d, degree, good) },
        });
      }
  return list;
}

export function goodDays(count: number, seed: number): CaseOfDay[] {
  return Array.from({ length: count }, (_, k) => {
    const d = dice(seed + k);
    const lamp = d.uniform(0, 1) < 0.5;
    return {
      cause: "as-predicted" as const,
      degree: "good" as const,
      seed: seed + k,
      day: goodDay(d, lamp, k % 5 === 0),
    };
  });
}
