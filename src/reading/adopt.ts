/** A setup corrected to what a reading found, so that the next forecast starts from the bench as it is. */
import { imageScale, spectralMap } from "../path/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { fieldAt, getPath, type JsonObject, parseSetup, type Setup, setPath } from "../setup/index.ts";
import { adoptVapour, gradientTold, type Put } from "./adopt-vapour.ts";
import type { Reading } from "./api.ts";

export interface Adopted {
  /** path of the field in the setup file */
  readonly path: string;
  /** as the file had it, or the default that held; null where there is none */
  readonly from: string | null;
  readonly to: string;
  readonly why: string;
}

export interface Adoption {
  readonly document: JsonObject;
  readonly changes: readonly Adopted[];
  /** what could not be brought to agree, and why */
  readonly left: readonly string[];
}

/** Differences below this many standard uncertainties, or this share, are left as they are. */
const SIGMAS = 2;
const SHARE = 2e-3;
/** Height and softness of the line are taken over where they differ by more than this share. */
const SHAPE = 0.02;
/** pixels at the picture's ends */
const LEAST_LEAN = 0.05;

/**
 * The setup file with its fields set to what a reading measured: wall temperatures that give the read column density and gradient (bottom
 * for the density; then a warmer top where the gradient is weaker than the bottom alone makes it, a narrower hot strip where it is
 * steeper), middle wavelength and dispersion, roll or
 * lean of the slit, level slit, focus, which way up. Each change is listed; what the model cannot reach is said and left.
 * @param document the setup file's own JSON, which keeps everything else
 */
export function adoptReading(document: JsonObject, reading: Reading): Adoption {
  const changes: Adopted[] = [];
  const left: string[] = [];
  let current = document;
  const put = (path: string, value: number | boolean, why: string): void => {
    const before = getPath(current, path);
    const to = typeof value === "boolean" ? value : textOf(path, value, before);
    if (before === to) return;
    current = setPath(current, path, to);
    changes.push({
      path,
      from:
        before === undefined ? defaultOf(path) : typeof before === "string" ? before : JSON.stringify(before),
      to: String(to),
      why,
    });
  };
  adoptPath(parseSetup(current), reading, put);
  adoptVapour(parseSetup(current), reading, put, left);
  return { document: current, changes, left };
}

function defaultOf(path: string): string | null {
  const field = fieldAt(path);
  if (field === undefined || !("default" in field) || field.default === undefined) return null;
  return `${String(field.default)} (default)`;
}

/** A value in the unit in which the file has it, so that before and after can be compared; else in the field's usual one. */
function textOf(path: string, value: number, before: unknown): string | number {
  const field = fieldAt(path);
  if (field?.kind !== "quantity") return Number(value.toPrecision(6));
  const written = typeof before === "string" ? before.replace(/^[-+\d.,eE\s]+/, "").trim() : "";
  for (const as of written === "" ? [field.show] : [written, field.show])
    try {
      return formatQuantity(value, field.unit, { as, digits: 6, plain: true });
    } catch (error) {
      // A unit that is only read, never written: the field's usual one then.
      if (as === field.show) throw error;
    }
  return field.show;
}

function adoptPath(setup: Setup, reading: Reading, put: Put): void {
  const { path, camera } = setup;
  const map = spectralMap(path);
  const optics = imageScale(path, map);
  const { pixel } = camera;
  const differs = (value: number, uncertainty: number, stated: number): boolean =>
    Math.abs(value - stated) > Math.max(SIGMAS * uncertainty, SHARE * Math.abs(stated));
  const { wavelengthScale: scale, tilt } = reading;
  /** A lean that moves the picture's ends by less is none. */
  const leans = (value: number, stated: number): boolean =>
    Math.abs(value - stated) * (camera.columns / 2) > LEAST_LEAN &&
    differs(value, tilt.combinedUncertainty, stated);
  // Slopes and places are those of the picture as stored.
  if (scale.source !== "setup") {
    const [middle, slope] = scale.coefficients;
    const perPixel = slope / 1000;
    const stated = map.wavelengthAt(pixel / 2) - map.wavelengthAt(-pixel / 2);
    if (Math.abs(middle - map.wavelengthAt(0)) > 0.5 * Math.abs(perPixel))
      put("path.centreWavelength", middle, "the wavelength scale's middle");
    const stretch = stated / Math.abs(perPixel);
    if (scale.source === "lamp" && Math.abs(stretch - 1) > SHARE) {
      if (path.disperser.kind === "linear")
        put("path.disperser.wavelengthPerLength", Math.abs(perPixel) / pixel, "the lamp's wavelength scale");
      else put("path.cameraFocalLength", path.cameraFocalLength * stretch, "the lamp's wavelength scale");
    }
  }
  if (scale.source === "lamp") {
    if (leans(scale.roll, path.cameraRoll))
      put("path.cameraRoll", scale.roll, "the lean of the lamp's lines");
    const slit = tilt.value - scale.roll;
    if (leans(slit, path.levelSlitTilt))
      put("path.levelSlitTilt", slit, "the lean of the undeflected line against the lamp's lines");
  } else if (leans(tilt.value, path.cameraRoll + path.levelSlitTilt))
    put(
      "path.levelSlitTilt",
      tilt.value - path.cameraRoll,
      "the lean of the undeflected line (no lamp frame: it may be the camera's)",
    );
  const { height, blur } = reading.lineShape;
  if (Math.abs((blur * pixel) / optics.blurHeight - 1) > SHAPE) {
    const diffraction = optics.blurHeight ** 2 - path.defocus ** 2;
    put(
      "path.defocus",
      Math.sqrt(Math.max((blur * pixel) ** 2 - diffraction, 0)),
      "the softness of the line's edges",
    );
  }
  if (Math.abs((height * pixel) / optics.levelSlitHeight - 1) > SHAPE)
    put(
      "path.levelSlit",
      (path.levelSlit * height * pixel) / optics.levelSlitHeight,
      "the height of the undeflected line",
    );
  const foretold = Math.sign(setup.vessel.wall.top - setup.vessel.wall.bottom);
  if (gradientTold(reading) && reading.columnGradient.value * foretold < 0)
    put("path.inverted", !path.inverted, "the branches point the other way");
}
