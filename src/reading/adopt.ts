/** A setup corrected to what a reading found, so that the next forecast starts from the bench as it is. */
import { imageScale, spectralMap } from "../path/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import {
  fieldAt,
  getPath,
  type JsonObject,
  parseSetup,
  type Setup,
  setPath,
  vapourStage,
} from "../setup/index.ts";
import type { Reading } from "./api.ts";

export interface Adopted {
  /** path of the field in the setup file */
  readonly path: string;
  /** as the file had it; null where it had the default */
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
const STEPS = 8;
/** Height and softness of the line are taken over where they differ by more than this share. */
const SHAPE = 0.02;

/**
 * The setup file with its fields set to what a reading measured: wall temperatures that give the read column density and gradient (bottom
 * for the density; the top where the gradient is weaker than the bottom alone makes it), middle wavelength and dispersion, roll or
 * lean of the slit, level slit, focus, which way up. Each change is listed; what the model cannot reach is said and left.
 * @param document the setup file's own JSON, which keeps everything else
 */
export function adoptReading(document: JsonObject, reading: Reading): Adoption {
  const changes: Adopted[] = [];
  const left: string[] = [];
  let current = document;
  const put = (path: string, value: number | boolean, why: string): void => {
    const before = getPath(current, path);
    const to = typeof value === "boolean" ? value : textOf(path, value);
    if (before === to) return;
    current = setPath(current, path, to);
    changes.push({
      path,
      from: before === undefined ? null : typeof before === "string" ? before : JSON.stringify(before),
      to: String(to),
      why,
    });
  };
  adoptPath(parseSetup(current), reading, put);
  adoptVapour(() => parseSetup(current), reading, put, left);
  return { document: current, changes, left };
}

type Put = (path: string, value: number | boolean, why: string) => void;

function textOf(path: string, value: number): string | number {
  const field = fieldAt(path);
  if (field?.kind === "quantity")
    return formatQuantity(value, field.unit, { as: field.show, digits: 6, plain: true });
  return Number(value.toPrecision(6));
}

function adoptPath(setup: Setup, reading: Reading, put: Put): void {
  const { path, camera } = setup;
  const map = spectralMap(path);
  const optics = imageScale(path, map);
  const { pixel } = camera;
  const differs = (value: number, uncertainty: number, stated: number): boolean =>
    Math.abs(value - stated) > Math.max(SIGMAS * uncertainty, SHARE * Math.abs(stated));
  const { wavelengthScale: scale, tilt } = reading;
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
  const uncertainTilt = tilt.combinedUncertainty;
  if (scale.source === "lamp") {
    if (differs(scale.roll, uncertainTilt, path.cameraRoll))
      put("path.cameraRoll", scale.roll, "the lean of the lamp's lines");
    const slit = tilt.value - scale.roll;
    if (differs(slit, uncertainTilt, path.levelSlitTilt))
      put("path.levelSlitTilt", slit, "the lean of the undeflected line against the lamp's lines");
  } else if (differs(tilt.value, uncertainTilt, path.cameraRoll + path.levelSlitTilt))
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
  if (reading.columnGradient.value * foretold < 0)
    put("path.inverted", !path.inverted, "the branches point the other way");
}

function adoptVapour(current: () => Setup, reading: Reading, put: Put, left: string[]): void {
  const setup = current();
  if (setup.shell !== undefined) {
    left.push("The setup gives a heater, not wall temperatures: they follow from its balance and were left.");
    return;
  }
  const target = {
    density: reading.columnDensity.value,
    gradient: Math.abs(reading.columnGradient.value),
  };
  const { vessel } = setup;
  const at = (bottom: number, top: number) =>
    vapourStage({ ...setup, vessel: { ...vessel, wall: { ...vessel.wall, bottom, top } } }).middle;
  const logs = (bottom: number, top: number) => {
    const middle = at(bottom, top);
    return {
      density: Math.log(middle.columnDensity / target.density),
      apart:
        Math.log(middle.columnDensity / target.density) -
        Math.log(Math.abs(middle.columnGradient) / target.gradient),
    };
  };
  let { bottom, top } = vessel.wall;
  const solveBottom = (): void => {
    for (let k = 0; k < STEPS; k++) {
      const off = logs(bottom, top).density;
      if (Math.abs(off) < SHARE) return;
      const slope = (logs(bottom + 0.5, top).density - off) / 0.5;
      bottom -= Math.max(-25, Math.min(25, off / slope));
    }
  };
  solveBottom();
  // Negative: the read gradient is weaker for its density than the model's; a warmer top weakens it.
  const limit = bottom - 2;
  if (logs(bottom, top).apart < -0.01) {
    let low = top;
    let high = limit;
    for (let k = 0; k < 12; k++) {
      const middle = (low + high) / 2;
      if (logs(bottom, middle).apart < 0) low = middle;
      else high = middle;
    }
    top = (low + high) / 2;
    solveBottom();
  }
  const why = `the read column density ${target.density.toExponential(3)} m-2 and gradient ${target.gradient.toExponential(3)} m-3`;
  if (Math.abs(bottom - vessel.wall.bottom) > 0.05) put("vessel.bottom", bottom, why);
  if (Math.abs(top - vessel.wall.top) > 0.5) put("vessel.top", top, why);
  const rest = logs(bottom, top);
  if (Math.abs(rest.apart) > 0.02)
    left.push(
      `The read gradient is ${((Math.exp(rest.apart) - 1) * 100).toFixed(0)} % of itself ${rest.apart > 0 ? "above" : "below"} what these walls give at the read density: look at hot strip, gas and beam height.`,
    );
}
