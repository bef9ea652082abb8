/**
 * Light in = light recorded + light lost, on benches of any make: for seeded random setups of every kind of vessel, disperser, lens and sensor, the ledger's items sum to what came in, and what the ledger
 * books as recorded is what lies in the picture, weighed out of its pixels: both to 1e-6.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { generator } from "../../bench/lib/generator.ts";
import { sourcePhotons } from "../../src/path/index.ts";
import { FATES } from "../../src/picture/index.ts";
import {
  coldCurve,
  type Forecast,
  forecast,
  ledgerOf,
  lightOf,
  overrideSetup,
  parseJsonObject,
  parseSetup,
} from "../../src/setup/index.ts";
import { COARSE_GRID } from "../../src/vessel/index.ts";

/** Setups that between them hold a tube, a cell, a flame, a dye and parts of one's own; middle of the picture, nm. */
const VESSELS = [
  ["blue-twins", 457.6],
  ["sodium", 589.46],
  ["cell-sodium", 589.46],
  ["flame-sodium", 589.46],
  ["dye-prism", 520],
  ["own-parts", 589.46],
] as const;
const SETUPS = new Map<string, ReturnType<typeof parseJsonObject>>(
  VESSELS.map(([name]) => [
    name,
    parseJsonObject(readFileSync(join(import.meta.dirname, `../../examples/${name}.json`), "utf8"), name),
  ]),
);

/** A bench of any make; the lamp's light is a band that falls well inside the sensor, and nothing bends it off. */
function randomBench(seed: number): { name: string; settings: string[] } {
  const random = generator(seed);
  const pick = <T>(...list: readonly T[]): T => list[Math.floor(random() * list.length)];
  const even = (low: number, high: number): number => low + (high - low) * random();
  const [name, middle] = VESSELS[seed % VESSELS.length];
  const kind = pick("direct-vision", "prism", "grating", "linear", "table");
  const disperser: Record<typeof kind, readonly string[]> = {
    "direct-vision": [
      "path.disperser.crown=517642",
      `path.disperser.flint=${pick("728284", "620364")}`,
      "path.disperser.flintApex=90 deg",
      `path.disperser.undeviated=${middle} nm`,
      `path.disperser.elements=${pick(3, 5)}`,
      `path.disperser.trains=${pick(1, 2)}`,
      `path.disperser.turn=${even(-1, 1)} deg`,
    ],
    prism: ["path.disperser.glass=620364", "path.disperser.apex=60 deg"],
    grating: [
      "path.disperser.grooves=600 /mm",
      "path.disperser.order=1",
      `path.disperser.efficiency=${even(0.3, 0.9)}`,
      ...(random() < 0.5 ? [`path.disperser.blaze=${even(400, 700)} nm`] : []),
    ],
    linear: ["path.disperser.wavelengthPerLength=4e-6"],
    table: [
      `path.disperser.table=${JSON.stringify([-60, -20, 20, 60].map((d) => [`${middle + d} nm`, `${48 - 0.01 * d + 1e-5 * d * d} deg`]))}`,
      `path.disperser.passes=${JSON.stringify([-60, 0, 60].map((d) => [`${middle + d} nm`, even(0.5, 0.9)]))}`,
    ],
  };
  const lens = pick<readonly string[]>(
    ["path.lensKind=thin"],
    ["path.lensKind=singlet"],
    ["path.lensKind=achromat"],
    [
      "path.lensKind=table",
      `path.lensTable=${JSON.stringify([-60, 0, 60].map((d) => [`${middle + d} nm`, `${300 + d / 60} mm`]))}`,
      "path.lensMeasured=all",
    ],
  );
  const maybe = (share: number, ...settings: string[]): string[] => (random() < share ? settings : []);
  const settings = [
    "camera.columns=200",
    "camera.rows=240",
    "camera.pixel=24 um",
    `path.centreWavelength=${middle} nm`,
    "path.cameraFocalLength=300 mm",
    "path.stray=0",
    "path.source.kind=table",
    "path.source.radiance=4e4 W.m-2.sr-1",
    `path.source.spectrum=${JSON.stringify(
      [
        [-1.2, 0],
        [-0.6, even(0.2, 1)],
        [0, even(0.2, 1)],
        [0.6, even(0.2, 1)],
        [1.2, 0],
      ].map(([d, power]) => [`${middle + d} nm`, power]),
    )}`,
    `path.disperser.kind=${kind}`,
    ...disperser[kind],
    ...lens,
    `path.collimatorKind=${pick("lens", "mirror")}`,
    `path.aperture=${pick("rectangular", "round")}`,
    `path.losses=${pick("usual", "each-colour")}`,
    `path.otherLosses=${even(0, 0.3)}`,
    `path.inverted=${pick(true, false)}`,
    ...maybe(0.5, `path.levelSlitOffset=${even(-0.1, 0.1)} mm`, `path.plumbSlitOffset=${even(-60, 60)} um`),
    ...maybe(0.5, `path.cameraRoll=${even(-20, 20)} mrad`, `path.levelSlitTilt=${even(-10, 10)} mrad`),
    ...maybe(0.3, `path.plumbSlitTilt=${even(-20, 20)} mrad`),
    ...maybe(0.4, `path.fog=${even(0, 1)}`, `path.smoke=${even(0, 1)}`),
    ...maybe(0.4, `path.lensDiameter=${even(8, 20)} mm`),
    ...maybe(0.4, `path.plumbSlitLength=${even(0.3, 4)} mm`),
    ...maybe(0.3, "path.lampImage=true", "path.condenserDiameter=30 mm", "path.source.size=3 mm"),
    `camera.filter=${pick("none", "bayer")}`,
    `camera.infraredFilter=${pick(true, false)}`,
  ];
  return { name, settings };
}

/** Light of the lamp's band that the ledger books as recorded. With the usual losses the picture shows every colour as it reaches the glass: what glass and disperser take counts in the exposure alone. */
function booked(run: Forecast): number {
  const { wavelengths, shares } = ledgerOf(run).book;
  const power = sourcePhotons(run.setup.path.source, wavelengths);
  const shown =
    run.setup.path.eachColour === true
      ? [shares.recorded]
      : [shares.recorded, shares.glass, shares.disperser];
  const at = (i: number): number => shown.reduce((sum, share) => sum + share[i], 0);
  let sum = 0;
  for (let i = 0; i + 1 < wavelengths.length; i++)
    sum +=
      ((power[i] + power[i + 1]) / 2) * (wavelengths[i + 1] - wavelengths[i]) * ((at(i) + at(i + 1)) / 2);
  return sum;
}
const weighed = (light: Float32Array): number => light.reduce((sum, v) => sum + v, 0);

describe("energy on random benches", () => {
  it.each(Array.from({ length: 30 }, (_, seed) => [seed]))("bench %i", (seed) => {
    const { name, settings } = randomBench(seed);
    const setup = parseSetup(overrideSetup(SETUPS.get(name)!, settings));
    const hot = forecast(setup, { grid: COARSE_GRID });
    const cold = { ...hot, curve: coldCurve(hot.curve) };
    const { imbalance, totals } = ledgerOf(hot);
    expect(imbalance).toBeLessThan(1e-12);
    expect(Math.abs(FATES.reduce((sum, fate) => sum + totals[fate], 0) - 1)).toBeLessThan(1e-12);
    const inPicture = weighed(hot.light) / weighed(lightOf(cold.curve, setup.camera));
    expect(Math.abs(inPicture - booked(hot) / booked(cold))).toBeLessThan(1e-6);
  });
});
