/** What the bench does to the bundle beside the vapour: beams that leave their axis, edges that cut, fog that dims. Nothing of it costs anything where it is not there. */
import { exp } from "../numerics/elementary/index.ts";
import type { CurveBundle, PathInput } from "./api.ts";
import { glassOf } from "./glass.ts";
import { shownPiece } from "./lamp-image.ts";
import { colourSize } from "./lateral-colour.ts";

/** Edges that bent light can miss. What is left out has no edge. */
export interface BeamEdges {
  /** radius of the bore and distance from its middle to the far window, m */
  readonly bore?: { readonly radius: number; readonly toWindow: number };
  /** free radius of the focusing lens, m, and its distance from the middle of the tube, m */
  readonly lens?: { readonly radius: number; readonly distance: number };
  /** length of the plumb slit, m, and focal length of the lens before it, m */
  readonly plumbSlit?: { readonly length: number; readonly focalLength: number };
}

/** Edges of a bench: the bore always, lens and slit where the setup states their size. */
export function benchEdges(
  path: PathInput,
  vessel: { readonly bore: number; readonly length: number },
): BeamEdges {
  const { lensDiameter, plumbSlitLength, focalLength, rail } = path;
  return {
    bore: { radius: vessel.bore / 2, toWindow: vessel.length / 2 },
    ...(lensDiameter === undefined
      ? {}
      : { lens: { radius: lensDiameter / 2, distance: vessel.length / 2 + rail.tubeToLens } }),
    ...(plumbSlitLength === undefined ? {} : { plumbSlit: { length: plumbSlitLength, focalLength } }),
  };
}

/**
 * The first edge that light at an angle misses, or null. The light turns in the middle of the tube and runs straight from there.
 * @param angle rad, upward
 * @param height above the axis before the turn, m
 */
export function missedEdge(angle: number, height: number, edges: BeamEdges): "wall" | "lens" | "jaw" | null {
  const { bore, lens, plumbSlit } = edges;
  if (bore !== undefined && Math.abs(height + angle * bore.toWindow) > bore.radius) return "wall";
  if (lens !== undefined && Math.abs(height + angle * lens.distance) > lens.radius) return "lens";
  if (plumbSlit !== undefined && Math.abs(angle * plumbSlit.focalLength) > plumbSlit.length / 2) return "jaw";
  return null;
}

/**
 * Direction of the beam in the tube against the axis, rad, upward, at each wavelength: a level slit off the axis, or lit in one half of its opening, sends it the other way (d/f), wedged windows
 * bend it towards their thick edge ((n − 1)·wedge, small angles).
 * @returns undefined where the beam keeps to the axis
 */
export function beamDirection(path: PathInput, wavelengths: Float64Array): Float64Array | undefined {
  const { levelSlitOffset = 0, windowWedge = 0 } = path;
  const { above } = shownPiece(path);
  if (levelSlitOffset === 0 && windowWedge === 0 && above === 0) return undefined;
  const glass =
    windowWedge === 0 ? undefined : glassOf(path.windowGlass ?? "fused-silica", "path.windowGlass");
  const slit = -(levelSlitOffset + above) / path.collimatorFocalLength;
  return wavelengths.map((w) => slit + (glass === undefined ? 0 : (glass.index(w) - 1) * windowWedge));
}

/** Size of each colour along the height over that of the one in focus; undefined where all are alike. @param vessel its length, m */
export function colourHeights(
  path: PathInput,
  vessel: { readonly length: number },
  wavelengths: Float64Array,
): Float64Array | undefined {
  const size = colourSize(path, vessel.length / 2 + path.rail.tubeToLens);
  return size === undefined ? undefined : wavelengths.map((w) => size.height(w));
}

export interface ThroughBench {
  /** heights of the bundle's curves above the tube's axis, m */
  readonly heights: Float64Array;
  readonly edges: BeamEdges;
  /** true for the hot tube, in which the fog stands */
  readonly hot: boolean;
  /** as colourHeights gives */
  readonly sizes?: Float64Array | undefined;
}

/** The bundle as it meets the second slit: turned by the beam's own direction, cut by lens and slit, dimmed by fog, its angles as large as the lenses draw each colour. The same object where nothing applies. */
export function throughBench(bundle: CurveBundle, path: PathInput, given: ThroughBench): CurveBundle {
  const direction = beamDirection(path, bundle.wavelengths);
  const left = given.hot ? exp(-(path.fog ?? 0)) : 1;
  const cuts = path.lensDiameter !== undefined || path.plumbSlitLength !== undefined;
  const { sizes } = given;
  if (direction === undefined && left === 1 && !cuts && sizes === undefined) return bundle;
  const n = bundle.wavelengths.length;
  const deflection = bundle.deflection.slice();
  const transmission = bundle.transmission.map((share) => share * left);
  for (let h = 0; h < bundle.weights.length; h++) {
    const height = given.heights[given.heights.length === 1 ? 0 : h];
    for (let i = 0, at = h * n; i < n; i++, at++) {
      if (direction !== undefined) deflection[at] += direction[i];
      if (cuts && missedEdge(deflection[at], height, given.edges) !== null) transmission[at] = 0;
      if (sizes !== undefined) deflection[at] *= sizes[i];
    }
  }
  return { ...bundle, deflection, transmission };
}
