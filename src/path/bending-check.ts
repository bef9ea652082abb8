/** Does the small-angle answer hold? Rays traced through the vapour against θ = κ·G, and whether any meets the wall. */
import { atan2, hypot } from "../numerics/elementary/index.ts";
import type { BeamColumns, VapourField } from "../vessel/index.ts";
import { type IndexMedium, type RayEnd, traceRay } from "./eikonal.ts";
import { vapourMedium } from "./vapour-medium.ts";

export interface BendingCheckInput {
  readonly field: VapourField;
  /** the beam's columns, at the heights to be traced */
  readonly columns: BeamColumns;
  /** (n−1)/N of the vapour at the wavelengths to be traced, m³: the strongest that still carry light on either side of the lines */
  readonly refractivities: readonly number[];
  /** (n−1)/N of the buffer gas, m³ */
  readonly gasRefractivity: number;
  /** m on the sensor per rad at the tube */
  readonly perRadian: number;
  /** pixel pitch, m */
  readonly pixel: number;
}

export interface TracedRay {
  readonly refractivity: number;
  /** height at the entrance, m */
  readonly height: number;
  /** deflection in the small-angle limit from the solved columns, rad */
  readonly smallAngle: number;
  /** the same limit in the medium that the rays are traced through, whose grid makes it differ by about 1 % */
  readonly linear: number;
  /** deflection of the traced ray, rad; where the ray meets the wall, that at the wall */
  readonly traced: number;
  /** height at the exit less that at the entrance, m */
  readonly drop: number;
  readonly hitsWall: boolean;
}

export interface BendingCheck {
  readonly rays: readonly TracedRay[];
  /** largest difference on the sensor, pixels, among rays that reach the far window */
  readonly worstPixels: number;
  readonly wallHits: number;
  /** sentences for a reader; empty where the small-angle answer serves */
  readonly findings: readonly string[];
}

/** How thin the medium is made for the small-angle limit, as a share of its refractivity. */
const THIN = 0.05;

function angleOf({ direction }: RayEnd): number {
  return atan2(direction[1], direction[2]);
}

/** Traces every height at every refractivity, twice; a few rays are enough (cost about a millisecond each). */
export function bendingCheck(input: BendingCheckInput): BendingCheck {
  const medium = vapourMedium(input.field);
  const through = (index: IndexMedium, height: number): RayEnd =>
    traceRay(
      index,
      { place: [0, height, medium.start], direction: [0, 0, 1] },
      {
        inside: (x, y, z) => Math.min(medium.end - z, medium.radius - hypot(x, y)),
        placeError: 1e-9,
        directionError: 1e-9,
      },
    );
  const rays: TracedRay[] = [];
  let worstPixels = 0;
  let wallHits = 0;
  for (const refractivity of input.refractivities) {
    const index = medium.at(refractivity, input.gasRefractivity);
    const thin = medium.at(refractivity * THIN, input.gasRefractivity * THIN);
    input.columns.heights.forEach((height, h) => {
      const smallAngle =
        refractivity * input.columns.columnGradient[h] +
        input.gasRefractivity * input.columns.gasColumnGradient[h];
      const end = through(index, height);
      const traced = angleOf(end);
      // The same medium made so thin that the ray stays where it is: its bend scaled up is what the small angles give here, without the error of the medium's grid.
      const linear = angleOf(through(thin, height)) / THIN;
      const hitsWall = end.place[2] < medium.end - 1e-6;
      if (hitsWall) wallHits++;
      else
        worstPixels = Math.max(
          worstPixels,
          (Math.abs(traced - linear) * Math.abs(input.perRadian)) / input.pixel,
        );
      rays.push({ refractivity, height, smallAngle, linear, traced, drop: end.place[1] - height, hitsWall });
    });
  }
  return { rays, worstPixels, wallHits, findings: findings(rays, worstPixels, wallHits) };
}

function findings(rays: readonly TracedRay[], worstPixels: number, wallHits: number): string[] {
  const out: string[] = [];
  if (worstPixels > 1) {
    out.push(
      `Near the lines the small-angle answer and traced rays differ by up to ${worstPixels.toFixed(1)} pixels: the light bends so far that it meets another gradient before it leaves.`,
    );
  }
  if (wallHits > 0) {
    out.push(
      `${wallHits} of ${rays.length} traced rays meet the wall of the tube: part of the dark beside the lines is light lost there, not absorbed.`,
    );
  }
  return out;
}
