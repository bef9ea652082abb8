/** How sharp the picture is, in numbers: what each blur contributes, what can be told apart, and which slits a wish needs. */
import { Refusal } from "../quantity/refusal.ts";
import type { PathInput, SpectralMap } from "./api.ts";
import { AIRY_SIGMA, SINC2_SIGMA } from "./diffraction.ts";
import { imageScale } from "./image-scale.ts";

/** Full width at half maximum of a Gaussian over its standard deviation, 2√(2 ln 2). */
const FULL_WIDTH = 2 * Math.sqrt(2 * Math.LN2);

/** Widths on the sensor along one direction, m. */
export interface Blur {
  /** image of the slit that counts in this direction, full width */
  readonly slit: number;
  /** λ over the beam's height, width or diameter, at the sensor: a rectangle's first dark, a circle's over 1.22 */
  readonly diffraction: number;
  /** defocus and lens faults, standard deviation */
  readonly defocus: number;
  /** pixel pitch */
  readonly pixel: number;
  /** full width at half maximum of a Gaussian of the same variance as all together */
  readonly total: number;
}

export interface Sharpness {
  readonly width: Blur;
  readonly height: Blur;
  /** vacuum wavelength told apart: the blur's full width, m */
  readonly wavelength: number;
  /** λ/δλ */
  readonly resolvingPower: number;
  /** finest deflection at the tube told apart: the blur's full height, rad */
  readonly deflection: number;
  /** dispersion on the sensor, m per m of vacuum wavelength */
  readonly linearDispersion: number;
}

/**
 * Sharpness at one wavelength. Blurs are joined by their variances: box w²/12, pixel p²/12, defocus σ², diffraction as the Gaussian with the pattern's own half width.
 * @param wavelength vacuum wavelength, m, inside the reach
 */
export function sharpness(path: PathInput, map: SpectralMap, pixel: number, wavelength: number): Sharpness {
  const scale = imageScale({ ...path, centreWavelength: wavelength }, map);
  const perRadian = Math.abs(scale.perRadian);
  const linearDispersion = slope(map, wavelength);
  const round = path.aperture === "round";
  const across = (wavelength / (round ? path.beamSize : path.beamWidth)) * perRadian * map.stretch;
  const along = (wavelength / path.beamSize) * perRadian;
  const { defocus } = path;
  const width = blur({ slit: scale.plumbSlitWidth, diffraction: across, defocus, pixel }, round);
  const height = blur({ slit: scale.levelSlitHeight, diffraction: along, defocus, pixel }, round);
  return {
    width,
    height,
    wavelength: width.total / linearDispersion,
    resolvingPower: (wavelength * linearDispersion) / width.total,
    deflection: height.total / perRadian,
    linearDispersion,
  };
}

export interface SlitWish {
  /** vacuum wavelengths that shall be told apart, m */
  readonly wavelength?: number;
  /** deflections that shall be told apart, rad */
  readonly deflection?: number;
}

/**
 * Widest slits that still grant a wish (the widest give the most light).
 * @returns plumb and level slit, m; undefined where nothing was wished
 * @throws Refusal where diffraction, focus and pixel alone already blur more than the wish, naming it ("wavelength" or "deflection") and what they leave
 */
export function slitsFor(
  path: PathInput,
  map: SpectralMap,
  pixel: number,
  at: number,
  wish: SlitWish,
): { plumbSlit?: number; levelSlit?: number } {
  const now = sharpness({ ...path, plumbSlit: 0, levelSlit: 0 }, map, pixel, at);
  const scale = imageScale({ ...path, plumbSlit: 1, levelSlit: 1 }, map);
  const out: { plumbSlit?: number; levelSlit?: number } = {};
  if (wish.wavelength !== undefined) {
    const room = slitRoom(wish.wavelength * now.linearDispersion, now.width.total);
    if (room === null)
      throw unable(
        "wavelength",
        wish.wavelength * 1e9,
        now.wavelength * 1e9,
        "nm",
        "a stronger disperser, a longer camera lens or a wider beam",
      );
    out.plumbSlit = room / scale.plumbSlitWidth;
  }
  if (wish.deflection !== undefined) {
    const perRadian = Math.abs(scale.perRadian);
    const room = slitRoom(wish.deflection * perRadian, now.height.total);
    if (room === null)
      throw unable(
        "deflection",
        wish.deflection * 1e6,
        now.deflection * 1e6,
        "µrad",
        "a longer focusing lens or a higher beam",
      );
    out.levelSlit = room / scale.levelSlitHeight;
  }
  return out;
}

/** Width of a slit's image that fills up the variance between what is and what may be; null where there is no room. */
function slitRoom(wanted: number, without: number): number | null {
  const room = (wanted * wanted - without * without) / (FULL_WIDTH * FULL_WIDTH);
  return room > 0 ? Math.sqrt(12 * room) : null;
}

function blur(parts: Omit<Blur, "total">, round: boolean): Blur {
  const { slit, diffraction, defocus, pixel } = parts;
  const spread = (round ? AIRY_SIGMA : SINC2_SIGMA) * diffraction;
  const variance = (slit * slit + pixel * pixel) / 12 + defocus * defocus + spread * spread;
  return { ...parts, total: FULL_WIDTH * Math.sqrt(variance) };
}

function slope(map: SpectralMap, wavelength: number): number {
  const step = 1e-11;
  const low = Math.max(map.reach.shortest, wavelength - step);
  const high = Math.min(map.reach.longest, wavelength + step);
  return (map.position(high) - map.position(low)) / (high - low);
}

function unable(field: keyof SlitWish, wished: number, least: number, unit: string, hint: string): Refusal {
  return new Refusal({
    code: "wish-beyond-bench",
    field,
    received: `${wished.toPrecision(3)} ${unit}`,
    expected: `at least ${least.toPrecision(3)} ${unit}, which diffraction, focus and pixel leave with closed slits`,
    hint: `take ${hint}`,
  });
}
