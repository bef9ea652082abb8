/** `check --wish`: the slits that grant a wish, widest first, since the widest give the most light. */
import { linePeak, sharpness, slitsFor } from "../path/index.ts";
import { audienceOf, slitsForAudience } from "../picture/index.ts";
import { parseAny, Refusal } from "../quantity/index.ts";
import type { Forecast } from "../setup/index.ts";

export interface Granted {
  readonly wish: string;
  /** m; left out where the wish does not ask for it */
  readonly plumbSlit?: number;
  readonly levelSlit?: number;
  /** electrons per pixel and second with these slits, relative to the setup's own */
  readonly brightness: number;
  readonly sentence: string;
}

/**
 * @param wish "0.1 nm" (wavelengths told apart), "80 urad" (deflections told apart) or "class" (bright enough for an audience at the setup's screen)
 * @throws Refusal for another wish, or one that no slit grants
 */
export function grant(result: Forecast, wish: string): Granted {
  const { setup, curve } = result;
  const { path, camera } = setup;
  const at = curve.lines[0]?.wavelength ?? path.centreWavelength;
  const micrometres = (length: number): string => `${(length * 1e6).toPrecision(3)} um`;
  if (wish.trim() === "class") return grantToClass(result);
  const { value, unit } = parsed(wish);
  const slits = asWished(wish, () =>
    slitsFor(path, curve.map, camera.pixel, at, unit === "m" ? { wavelength: value } : { deflection: value }),
  );
  const changed = { ...path, ...slits };
  const now = sharpness(changed, curve.map, camera.pixel, at);
  const set = Object.entries(slits).map(([name, length]) => `--set "path.${name}=${micrometres(length)}"`);
  return {
    wish,
    ...slits,
    brightness: brightness(path, changed, result),
    sentence: `${wish}: ${set.join(" ")}; then ${(now.wavelength * 1e9).toPrecision(3)} nm and ${(now.deflection * 1e6).toPrecision(3)} urad are told apart at ${(at * 1e9).toFixed(2)} nm, with ${brightness(path, changed, result).toPrecision(3)} times the light of now.`,
  };
}

/** What is refused is named as it was given. */
function asWished<T>(wish: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    throw new Refusal({ ...error.record, field: "--wish", received: wish });
  }
}

/** A line wider than pixel and blur holds as much light per pixel whatever its height; the plumb slit's width lets in more colours. */
function brightness(
  before: Forecast["setup"]["path"],
  after: Forecast["setup"]["path"],
  { setup, curve }: Forecast,
): number {
  const { perRadian, blurHeight } = curve.scale;
  const filled = (levelSlit: number): number =>
    linePeak(
      (levelSlit * Math.abs(perRadian)) / before.collimatorFocalLength,
      blurHeight,
      setup.camera.pixel,
    );
  return ((after.plumbSlit / before.plumbSlit) * filled(after.levelSlit)) / filled(before.levelSlit);
}

function grantToClass({ setup, curve }: Forecast): Granted {
  const { path, camera } = setup;
  const { screen } = camera;
  if (screen === undefined) throw new Error("a setup without a screen");
  const seen = audienceOf(path, curve.map, camera, screen);
  const slits = slitsForAudience(path, curve.map, camera, screen, seen);
  const { plumbSlit, levelSlit } = slits;
  if (plumbSlit === undefined) {
    throw new Refusal({
      code: "wish-beyond-bench",
      field: "--wish",
      received: "class, at wavelengths that no eye sees",
      expected: "a picture between 380 and 780 nm",
    });
  }
  const at = seen.brightest.wavelength;
  const now = sharpness({ ...path, plumbSlit, levelSlit }, curve.map, 0, at);
  const useful = plumbSlit <= path.beamWidth;
  const told = `${slits.illuminance} lx on ${screen.width} m of screen need a plumb slit of ${(plumbSlit * 1e6).toPrecision(3)} um and a level slit of ${(levelSlit * 1e6).toPrecision(3)} um`;
  return {
    wish: "class",
    plumbSlit,
    levelSlit,
    brightness: plumbSlit / path.plumbSlit,
    sentence: useful
      ? `class: ${told}; wavelengths ${(now.wavelength * 1e9).toPrecision(3)} nm apart are then told apart.`
      : `class: ${told}, wider than the beam: show the camera's picture, take a smaller screen or a brighter lamp.`,
  };
}

function parsed(wish: string): { value: number; unit: "m" | "rad" } {
  const wrong = new Refusal({
    code: "unknown-wish",
    field: "--wish",
    received: JSON.stringify(wish),
    expected: 'a length of wavelength such as "0.1 nm", an angle such as "80 urad", or class',
  });
  const { value, unit } = parseAny(wish, "--wish");
  if (!(value > 0) || (unit !== "m" && unit !== "rad")) throw wrong;
  return { value, unit };
}
