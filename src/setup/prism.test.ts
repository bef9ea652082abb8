import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { airRefractivity } from "../medium/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import {
  coldCurve,
  curveStage,
  type JsonObject,
  metalOf,
  parseSetup,
  setPath,
  vapourStage,
} from "./index.ts";
import { parseJsonObject } from "./json.ts";

const example = parseJsonObject(
  readFileSync(join(import.meta.dirname, "../../examples/dye-prism.json"), "utf8"),
  "dye-prism.json",
);

const C = 299792458;
const R_E = 2.8179403262e-15;
const AVOGADRO = 6.02214076e23;

/** One broad band by hand in a solvent of one index: all of it has a closed form. */
const BAND = { centre: 527e-9, strength: 0.5, share: 0.05, concentration: 20, solvent: 1.36 };
const byHand = [
  ["medium.absorbance", undefined],
  ["medium.oscillators", [["527 nm", BAND.strength, BAND.share]]],
  ["medium.concentration", "20 mmol/L"],
  ["medium.solvent", "other"],
  ["medium.solventIndex", BAND.solvent],
  ["vessel.edgeDistance", "0.65 mm"],
].reduce<JsonObject>((file, [path, value]) => setPath(file, path as string, value), example);

// oscillators need two rows at least, as every table
const setup = parseSetup(
  setPath(byHand, "medium.oscillators", [
    ["300 nm", 0, 0.05],
    ["527 nm", BAND.strength, BAND.share],
  ]),
);

/** n and α of the band, from n² = n₀² + ω_p² f/(ω₀² − ω² − iγω). */
function bandAt(wavelength: number): { n: number; alpha: number } {
  const omega = (2 * Math.PI * C) / wavelength;
  const own = (2 * Math.PI * C) / BAND.centre;
  const gamma = BAND.share * own;
  const plasma = 4 * Math.PI * R_E * C * C * BAND.concentration * AVOGADRO * BAND.strength;
  const a = own * own - omega * omega;
  const b = gamma * omega;
  const re = BAND.solvent ** 2 + (plasma * a) / (a * a + b * b);
  const im = (plasma * b) / (a * a + b * b);
  const n = Math.sqrt((Math.hypot(re, im) + re) / 2);
  return { n, alpha: (2 * omega * (im / (2 * n))) / C };
}

const air = (wavelength: number): number =>
  1 + airRefractivity(wavelength, { temperature: 293.15, pressure: 101325 });

describe("a prism with dye", () => {
  const vapour = vapourStage(setup);
  const curve = curveStage(setup, vapour);
  const A = (8 * Math.PI) / 180;
  const incidence = Math.asin((BAND.solvent / air(520e-9)) * Math.sin(A / 2));
  const turned = (n: number): number =>
    incidence + Math.asin(n * Math.sin(A - Math.asin(Math.sin(incidence) / n))) - A;

  it("bends by Snell's law at both faces, downward with the edge above, from the solvent's own aim", () => {
    const { wavelengths, deflection } = curve.bundle;
    for (let i = 0; i < wavelengths.length; i += 97) {
      const w = wavelengths[i];
      const expected = -(turned(bandAt(w).n / air(w)) - turned(BAND.solvent / air(520e-9)));
      expect(deflection[i]).toBeCloseTo(expected, 9);
    }
  });

  it("dims by Lambert and Beer over the way at each height", () => {
    const { wavelengths, transmission, weights } = curve.bundle;
    const n = wavelengths.length;
    const half = A / 2;
    for (let h = 0; h < weights.length; h += 4) {
      const height = 1.2e-3 * ((h + 0.5) / 9 - 0.5);
      for (const i of [0, 5, n - 300, n - 1]) {
        const w = wavelengths[i];
        const { n: index, alpha } = bandAt(w);
        // At least deviation the way is 2 h tan(A/2)/cos… of the symmetric prism, walls shifting it a little.
        const relative = index / air(w);
        const second = A - Math.asin(Math.sin(incidence) / relative);
        const glass = Math.asin(Math.sin(incidence) / 1.5195);
        const along =
          (0.65e-3 - height) / Math.cos(incidence) + 2e-3 * (Math.tan(incidence) - Math.tan(glass));
        const path = (along * Math.sin(A)) / Math.cos(second);
        expect(Math.log(transmission[h * n + i])).toBeCloseTo(-alpha * path, 3);
        expect(path).toBeCloseTo(2 * along * Math.sin(half), 6);
      }
    }
  });

  it("has the solvent alone for its cold line: level here, since this solvent has one index in thin air", () => {
    const cold = coldCurve(curve);
    for (const angle of cold.bundle.deflection) expect(Math.abs(angle)).toBeLessThan(3e-6);
    expect(Math.min(...cold.bundle.transmission)).toBe(1);
    expect(curve.lines).toEqual([]);
  });

  it("turns upside down with the edge below", () => {
    const below = parseSetup(
      setPath(
        setPath(byHand, "medium.oscillators", [
          ["300 nm", 0, 0.05],
          ["527 nm", BAND.strength, BAND.share],
        ]),
        "vessel.edge",
        "below",
      ),
    );
    const other = curveStage(below, vapourStage(below));
    expect(other.bundle.deflection[0]).toBeCloseTo(-curve.bundle.deflection[0], 12);
  });
});

describe("the example of a dye by its absorbance", () => {
  const stage = vapourStage(parseSetup(example));

  it("bends up on the blue side of the band and down on the red side, against its solvent", () => {
    if (stage.solution === undefined) throw new Error("no solution");
    // Two faces, glass of n = 1.46 to 1.53 near normal incidence: (1 − ((n − 1)/(n + 1))²)² = 0.931 to 0.914; oblique a little less.
    expect(stage.solution.faces).toBeGreaterThan(0.88);
    expect(stage.solution.faces).toBeLessThan(0.932);
    const at = Float64Array.of(470e-9, 570e-9);
    const clear = stage.solution.clear(at).deflection;
    const dyed = stage.solution.dyed(at).deflection;
    expect(dyed[0] - clear[0]).toBeGreaterThan(2e-4);
    expect(dyed[1] - clear[1]).toBeLessThan(-1e-3);
  });

  it("absorbs in proportion to its concentration", () => {
    if (stage.solution === undefined) throw new Error("no solution");
    // 0.01 mmol/L over 10 mm reads 0.2 + … at 532 nm in the file; 40 mmol/L is 4000 times as much.
    const rows = (example["medium"] as JsonObject)["absorbance"] as [string, number][];
    const [, absorbance] = rows.find(([w]) => w === "532 nm")!;
    const [alpha] = stage.solution.medium.at(Float64Array.of(532e-9)).absorption;
    expect(alpha / ((absorbance * Math.LN10 * 4000) / 0.01)).toBeCloseTo(1, 3);
  });
});

describe("what a prism refuses", () => {
  const refused = (path: string, value: unknown): string => {
    try {
      const changed = parseSetup(setPath(example, path, value as never));
      curveStage(changed, vapourStage(changed));
    } catch (error) {
      if (error instanceof Refusal) return error.record.field;
      throw error;
    }
    return "nothing";
  };

  it("names the field: no dye, dye told twice, light beside the liquid, a table too short, total reflection", () => {
    expect(refused("medium.absorbance", undefined)).toBe("medium.absorbance");
    expect(
      refused("medium.oscillators", [
        ["500 nm", 1, 0.1],
        ["520 nm", 1, 0.1],
      ]),
    ).toBe("medium.absorbance");
    expect(refused("vessel.edgeDistance", "0.5 mm")).toBe("vessel.edgeDistance");
    expect(refused("path.centreWavelength", "730 nm")).toBe("medium.absorbance");
    expect(refused("vessel.incidence", "-70 deg")).toBe("vessel.apex");
  });

  it("says in one sentence what needs a metal", () => {
    expect(() => metalOf(parseSetup(example), "a reading")).toThrow(
      "vessel.kind: expected a tube, cell or flame: a reading goes by the lines of a metal's vapour, received a prism filled with dye.",
    );
  });
});
