/** Practice pictures: the open bench, photographed by the program itself with the metal a few kelvin off. */
import { encodePng, expose, type LampLine, renderLamp } from "../../picture/index.ts";
import { parseQuantity } from "../../quantity/index.ts";
import { LAMP_ELEMENTS, lampLines } from "../../reference/index.ts";
import { airToVacuum } from "../../medium/index.ts";
import {
  type CurveStage,
  forecast,
  getPath,
  type JsonObject,
  overrideSetup,
  type Setup,
} from "../../setup/index.ts";
import { openSetup } from "./open-frames.ts";
import type { Practice, PracticeRequest } from "./protocol.ts";

/** The metal is off by at most this, K. */
const MOST_OFF = 6;
/** Where the comb's lines stand in the view: uneven, so that they cannot be mistaken for one another. */
const COMB = [0.05, 0.16, 0.33, 0.45, 0.6, 0.69, 0.84, 0.95];
/** Lamps of one practice picture at most. */
const MOST_LAMPS = 3;

export function practise(request: PracticeRequest): Practice {
  const document = request.setup as JsonObject;
  const { setup, bottom } = hiddenSetup(document, request.seed);
  const hot = forecast(setup);
  const cold = forecast(setup, { cold: true });
  const shoot = (light: Float32Array, seed: number): Uint8Array<ArrayBuffer> =>
    new Uint8Array(encodePng(expose(light, setup.camera, seed)));
  const { seed } = setup.camera;
  const lamp = lampInView(setup, hot.curve);
  return {
    hot: shoot(hot.light, seed + request.seed),
    cold: shoot(cold.light, seed + request.seed + 1),
    dark: shoot(new Float32Array(hot.light.length), seed + request.seed + 2),
    lamp: shoot(lamp.light, seed + request.seed + 3),
    lampLines: lamp.names,
    truth: {
      columnGradient: hot.vapour.middle.columnGradient,
      columnDensity: hot.vapour.middle.columnDensity,
      bottom,
    },
  };
}

/** The setup with another bottom temperature, spread evenly over the seeds; as it is where no bottom temperature is given. */
function hiddenSetup(document: JsonObject, seed: number): { setup: Setup; bottom: number } {
  const written = getPath(document, "vessel.bottom");
  if (typeof written !== "string") return { setup: openSetup(document), bottom: 0 };
  const off = MOST_OFF * (2 * ((seed * 0.618_033_988_75) % 1) - 1);
  const bottom = parseQuantity(written, "K", "vessel.bottom") + off;
  return { setup: openSetup(overrideSetup(document, [`vessel.bottom=${bottom} K`])), bottom };
}

/**
 * The lamps with most lines in view, their strengths levelled so that one exposure shows them all: a lamp frame is taken
 * for its places. Where no stored lamp has three lines there, an invented comb whose lines are named one by one.
 */
function lampInView(setup: Setup, { map, scale }: CurveStage): { names: string; light: Float32Array } {
  const { camera } = setup;
  const half = 0.48 * camera.columns * camera.pixel;
  const [from, to] = [map.wavelengthAt(-half), map.wavelengthAt(half)].sort((a, b) => a - b);
  const candidates = LAMP_ELEMENTS.map((element) => ({
    element,
    lines: lampLines(element)
      .map((line) => ({ ...line, vacuum: airToVacuum(line.airWavelength.value) }))
      .filter(({ vacuum }) => vacuum > from && vacuum < to),
  }))
    .filter(({ lines }) => lines.length > 0)
    .sort((a, b) => b.lines.length - a.lines.length)
    .slice(0, MOST_LAMPS);
  const lines: LampLine[] = candidates.flatMap((candidate) =>
    candidate.lines.map(({ vacuum, relativeIntensity }) => ({
      wavelength: vacuum,
      intensity: Math.min(1.2, 0.3 + 0.1 * Math.log10(1 + (relativeIntensity ?? 10))),
    })),
  );
  if (lines.length >= 3)
    return {
      names: candidates.map(({ element }) => element).join(", "),
      light: renderLamp(lines, map, scale, camera),
    };
  const comb = COMB.map((share) => Number((from + share * (to - from)).toFixed(13)));
  return {
    names: comb.map((wavelength) => `${(wavelength * 1e9).toFixed(4)} nm vacuum`).join(", "),
    light: renderLamp(
      comb.map((wavelength) => ({ wavelength, intensity: 0.6 })),
      map,
      scale,
      camera,
    ),
  };
}
