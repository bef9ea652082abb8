/** Cases drawn by our own forecast: the examples, colder and hotter, with whatever makes a picture difficult. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expose, type Frame, mosaicFactors, renderLamp } from "../../../src/picture/index.ts";
import { linesOf } from "../../../src/reference/index.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  type Setup,
  vapourStage,
  metalOf,
} from "../../../src/setup/index.ts";
import {
  coded,
  codingFor,
  Dice,
  type DrawnCase,
  filtersOf,
  FINENESS,
  lampOf,
  mirrored,
  type Size,
  type Trouble,
  TROUBLES,
} from "./cases.ts";

const EXAMPLES = ["potassium-grating", "blue-twins", "strontium", "sodium"];
const COLUMNS = 300;
const ROWS = 200;
/** The small picture's pixels are binned three by three, so that it still holds both lines of a pair. */
const BINNED = 3;

function example(name: string): Setup {
  const path = fileURLToPath(new URL(`../../../examples/${name}.json`, import.meta.url));
  return parseSetup(parseJsonObject(readFileSync(path, "utf8"), name));
}

export async function ownCase(seed: number, number: number, size: Size = "small"): Promise<DrawnCase> {
  const fine = FINENESS[size];
  const columns = Math.round(COLUMNS * fine);
  const dice = new Dice(seed, number, "forecast");
  const trouble: Trouble = TROUBLES[number % TROUBLES.length];
  const base = example(dice.of(EXAMPLES));
  const hotter = dice.between(-12, 12);
  const rolled = trouble === "rolled and curved" || dice.unit() < 0.3;
  const coding = codingFor(trouble, dice);
  const linear = trouble === "8 bits, linear";
  const eight = coding.jpeg !== null || coding.film !== null || linear;
  const { exposure, fullWell } = base.camera;
  const pixel = (BINNED * base.camera.pixel) / fine;
  const electrons = coding.jpeg !== null ? dice.decades(400, 2000) : dice.decades(3000, 20000);
  const well =
    trouble === "overexposed"
      ? electrons * dice.between(0.75, 0.95)
      : Math.max(electrons * dice.between(1.25, 2), fullWell * 0.02);
  const setup: Setup = {
    ...base,
    vessel: {
      ...base.vessel,
      wall: { ...base.vessel.wall, bottom: base.vessel.wall.bottom + hotter },
    },
    path: {
      ...base.path,
      cameraRoll: rolled ? dice.between(-0.018, 0.018) : 0,
      levelSlitTilt: rolled ? dice.between(-0.004, 0.004) : 0,
      defocus: base.path.defocus + (trouble === "out of focus" ? dice.between(2, 4) * fine * pixel : 0),
    },
    camera: {
      ...base.camera,
      pixel,
      columns,
      rows: Math.round(ROWS * fine),
      rate: electrons / exposure,
      fullWell: well,
      bitDepth: eight ? 8 : 16,
      gamma: eight && !linear ? 2.2 : 1,
      // Zero to two counts of a linear file: the noise of the dark is cut off, or hides within a count.
      blackLevel: linear ? dice.between(0, 0.008) : eight ? 0.01 : 0.02,
    },
  };
  const vapour = vapourStage(setup);
  const curve = curveStage(setup, vapour);
  const hotLight = Float32Array.from(pictureStage(setup, curve).light);
  const coldLight = pictureStage(setup, coldCurve(curve)).light.slice();
  if (trouble === "smoke") smoke(hotLight, columns, dice);
  const view = (f: number): number => curve.map.wavelengthAt(f * (columns / 2) * setup.camera.pixel);
  const [shortest, longest] = [view(-0.9), view(0.9)].sort((a, b) => a - b);
  const lamp = trouble === "no lamp" ? [] : lampOf(dice, shortest, longest);
  const turn = trouble === "mirrored" ? mirrored : <T>(frame: T): T => frame;
  const filters = coding.mosaic ? filtersOf(dice) : null;
  const shot = (light: Float32Array, exposure: number): Frame =>
    expose(filters ? filtered(light, columns, filters) : light, setup.camera, 3 * number + exposure);
  const raw = shot(hotLight, 1);
  const factors = coding.mosaic ? mosaicFactors(raw, "hot") : null;
  const lines = linesOf(metalOf(setup, "the campaign").element)
    .filter((l) => l.wavelength > shortest && l.wavelength < longest)
    .map((l) => ({
      wavelength: l.wavelength,
      strength: metalOf(setup, "the campaign").overrides.oscillatorStrength?.[l.id] ?? l.oscillatorStrength,
    }))
    .sort((a, b) => b.strength - a.strength)
    .slice(0, 2)
    .sort((a, b) => a.wavelength - b.wavelength);
  const pair = lines.length === 2;
  const camera = { ...setup.camera, bitDepth: 16 as const, gamma: 1, rate: 8000 / exposure, fullWell: 12000 };
  return {
    size,
    seed,
    number,
    source: "forecast",
    element: metalOf(setup, "the campaign").element,
    trouble,
    setup,
    truth: {
      gradient: vapour.middle.columnGradient,
      density: vapour.middle.columnDensity,
      separation: pair ? lines[1].wavelength - lines[0].wavelength : null,
      ratio: pair ? lines[0].strength / lines[1].strength : null,
      tilt: (trouble === "mirrored" ? -1 : 1) * (setup.path.cameraRoll + setup.path.levelSlitTilt),
    },
    hot: turn(await coded(raw, coding, factors)),
    ...(trouble === "no cold frame" ? {} : { cold: turn(await coded(shot(coldLight, 2), coding, factors)) }),
    ...(lamp.length === 0
      ? {}
      : {
          lamp: turn(
            expose(
              renderLamp(
                lamp.map((l) => ({ wavelength: l.wavelength, intensity: l.height })),
                curve.map,
                curve.scale,
                setup.camera,
              ),
              camera,
              3 * number + 3,
            ),
          ),
          lampLines: lamp.map((l) => l.wavelength),
        }),
  };
}

/** Light behind red, green, green and blue filters. */
function filtered(
  light: Float32Array,
  columns: number,
  [red, green, blue]: readonly [number, number, number],
): Float32Array {
  const shares = [red, green, green, blue];
  return light.map((v, i) => v * shares[2 * (Math.floor(i / columns) & 1) + ((i % columns) & 1)]);
}

/** Dims all, and a few stretches of the spectrum more. */
function smoke(light: Float32Array, columns: number, dice: Dice): void {
  const fine = columns / COLUMNS;
  const dim = dice.between(0.6, 1);
  const patches = Array.from({ length: 1 + dice.whole(3) }, () => ({
    middle: dice.between(0.05, 0.95) * columns,
    width: dice.between(3, 14) * fine,
    loss: dice.between(0.15, 0.7),
  }));
  for (let c = 0; c < columns; c++) {
    let left = dim;
    for (const { middle, width, loss } of patches)
      left *= 1 - loss * Math.exp(-0.5 * ((c + 0.5 - middle) / width) ** 2);
    for (let i = c; i < light.length; i += columns) light[i] *= left;
  }
}
