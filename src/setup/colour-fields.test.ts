/** Size, losses and lamp from colour to colour, from the setup file to the picture and the ledger. */
import { describe, expect, it } from "vitest";
import { FATES } from "../picture/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import example from "../../examples/sodium.json" with { type: "json" };
import { ledgerOf } from "./accounts.ts";
import { coldCurve } from "./curve-stage.ts";
import { type Forecast, forecast, lightOf } from "./forecast.ts";
import { overrideSetup } from "./override.ts";
import { parseSetup } from "./examine.ts";

function seen(...settings: string[]): Forecast {
  const document = overrideSetup(example, settings);
  return forecast(parseSetup(document), { grid: COARSE_GRID });
}
const plain = seen();
/** A short camera lens and large pixels: 365 to 500 nm of strontium's blue on the sensor. */
const WIDE = [
  "path.cameraFocalLength=100 mm",
  "camera.pixel=10 um",
  "path.centreWavelength=430 nm",
  "medium.element=Sr",
];

/** Light of each column summed. */
function columns({ setup, light }: Forecast): Float64Array {
  const sums = new Float64Array(setup.camera.columns);
  light.forEach((value, p) => {
    sums[p % setup.camera.columns] += value;
  });
  return sums;
}

const columnsOf = (light: Float32Array): number =>
  light.reduce((sum, value) => sum + value, 0) / light.length;

describe("losses of each colour", () => {
  const wide = (...more: string[]): Forecast => seen(...WIDE, ...more);

  it("dim the blue end where the flint of the prism is dark, in the picture as in the ledger", () => {
    const before = wide();
    const after = wide("path.losses=each-colour");
    const { book, imbalance } = ledgerOf(after);
    expect(imbalance).toBeLessThan(1e-12);
    const passed = (w: number): number => {
      let i = 0;
      while (book.wavelengths[i] < w) i++;
      const { recorded, sensor, glass, disperser } = book.shares;
      const lit = recorded[i] + sensor[i];
      return lit / (lit + glass[i] + disperser[i]);
    };
    const [a, b] = [columns(before), columns(after)];
    const at = (w: number): number =>
      Math.floor(after.setup.camera.columns / 2 + after.curve.map.position(w) / after.setup.camera.pixel);
    const ratio = (w: number): number => b[at(w)] / a[at(w)];
    // Both pictures are relative to their own brightest column; between two colours that drops out.
    const wanted = passed(410e-9) / passed(445e-9);
    expect(wanted).toBeLessThan(0.95);
    expect(ratio(410e-9) / ratio(445e-9) / wanted).toBeCloseTo(1, 2);
  });

  it("belong to the windows' own glass, and to the exposure", () => {
    const rate = (...more: string[]): number => wideSetup("camera.rateFrom=budget", ...more).camera.rate;
    const silica = rate("path.losses=each-colour");
    const sapphire = rate("path.losses=each-colour", "vessel.windowMaterial=sapphire");
    // Plates of 1.459 and 1.772 at the sodium lines: (2n/(n² + 1))² for both windows.
    const plates = (n: number): number => ((2 * n) / (n * n + 1)) ** 2;
    expect(sapphire / silica / (plates(1.7682) / plates(1.4584))).toBeCloseTo(1, 3);
  });
});

const wideSetup = (...settings: string[]) => parseSetup(overrideSetup(example, settings));

describe("size of colours", () => {
  it("moves the rows of the curve by the stated share, and leaves the colour in focus", () => {
    const after = seen("path.lateralColour=stated", "path.lateralShift=5e-4 /nm");
    const { wavelengths } = after.curve.bundle;
    const sharp = plain.setup.path.centreWavelength;
    for (let i = 0; i < wavelengths.length; i += 211) {
      const w = wavelengths[i];
      const ratio = after.curve.bundle.deflection[i] / (after.curve.vapourBundle?.deflection[i] ?? NaN);
      expect(ratio).toBeCloseTo(1 + 5e5 * (w - sharp), 9);
    }
    expect(ledgerOf(after).imbalance).toBeLessThan(1e-12);
    // The cold line has no deflection that could grow: it stays.
    const cold = (result: Forecast): Float32Array => lightOf(coldCurve(result.curve), result.setup.camera);
    expect(columnsOf(cold(after))).toBeCloseTo(columnsOf(cold(plain)), 3);
  });
});

describe("tables as they are typed", () => {
  it("read the same by rows of text and as arrays, and refuse what is none", () => {
    const by = (text: string) => wideSetup("path.lensKind=table", `path.lensTable=${text}`).path.lens;
    const typed = by("500 nm, 300 mm; 600 nm, 303 mm");
    expect(typed).toEqual(by('[["500 nm","300 mm"],["600 nm","303 mm"]]'));
    expect(typed).toEqual({
      kind: "table",
      which: "all",
      table: [
        [5e-7, 0.3],
        [6e-7, 0.303],
      ],
    });
    expect(() => by("500 nm; 600 nm")).toThrow(/path\.lensTable/);
    expect(() => wideSetup("path.lensKind=table")).toThrow(/path\.lensTable/);
    expect(wideSetup("path.disperser.passes=500 nm, 0.5; 600 nm, 0.75").path.disperserPasses).toEqual([
      [5e-7, 0.5],
      [6e-7, 0.75],
    ]);
  });
});

it("everything at once still books every share", () => {
  const all = seen(
    "path.losses=each-colour",
    "path.lampImage=true",
    "path.condenserDiameter=8 mm",
    "path.source.size=2 mm",
    "path.lensKind=singlet",
    "path.lateralColour=by-lenses",
    "path.disperser.passes=500 nm, 0.5; 700 nm, 0.75",
    "path.fog=0.2",
    "path.lensDiameter=9 mm",
  );
  const { imbalance, totals } = ledgerOf(all);
  expect(imbalance).toBeLessThan(1e-12);
  expect(FATES.reduce((sum, fate) => sum + totals[fate], 0)).toBeCloseTo(1, 12);
  // The table passes 0.64 at sodium's lines; the prism's faces and glass take more.
  const { disperser, sensor, recorded } = totals;
  expect(disperser / (disperser + sensor + recorded)).toBeGreaterThan(1 - 0.64);
});
