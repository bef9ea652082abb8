import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { solventIndex } from "../medium/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import { FATES } from "../picture/index.ts";
import { ledgerOf } from "./accounts.ts";
import { bendingOf } from "./bending.ts";
import { coldCurve, curveStage } from "./curve-stage.ts";
import { curvePoints, type Forecast, forecast, lightOf } from "./forecast.ts";
import { parseJsonObject } from "./json.ts";
import { overrideSetup } from "./override.ts";
import { parseSetup } from "./examine.ts";
import { vapourStage } from "./vapour-stage.ts";

const twins = parseJsonObject(
  readFileSync(join(import.meta.dirname, "../../examples/blue-twins.json"), "utf8"),
  "blue-twins.json",
);
const small = ["camera.columns=200", "camera.rows=120", "camera.pixel=16 um"];
const setupOf = (...settings: string[]) => parseSetup(overrideSetup(twins, [...small, ...settings]));
const seen = (...settings: string[]): Forecast => forecast(setupOf(...settings), { grid: COARSE_GRID });
const plain = seen();

describe("tables in a setup file", () => {
  it("are read with their units, from the file or as text", () => {
    const table = '[["430 nm","50 deg"],["0.457 um","49 deg"],["500 nm","0.8 rad"]]';
    const setup = setupOf("path.disperser.kind=table", `path.disperser.table=${table}`);
    if (setup.path.disperser.kind !== "table") throw new Error("no table");
    expect(setup.path.disperser.table[1][0]).toBeCloseTo(457e-9, 15);
    expect(setup.path.disperser.table[1][1]).toBeCloseTo((49 * Math.PI) / 180, 12);
    const response = setupOf('camera.response=[["400 nm",0.5,0.2,0.1],["500 nm",0.5,0.2,0.1]]').camera.sensor;
    expect(response?.response?.[0]).toEqual([4e-7, 0.5, 0.2, 0.1]);
  });

  it.each([
    ["no table", "{}"],
    ["text", "hello"],
    ["one row", '[["430 nm","50 deg"]]'],
    ["rows that are none", "[1, 2]"],
    ["values without a unit", '[["430 nm",50],["440 nm",49]]'],
    ["a wavelength without a unit", '[[430,"50 deg"],["440 nm","49 deg"]]'],
    ["falling wavelengths", '[["440 nm","50 deg"],["430 nm","49 deg"]]'],
    ["values out of range", '[["430 nm","50 rad"],["440 nm","49 deg"]]'],
    ["too many columns", '[["430 nm","50 deg","1 deg"],["440 nm","49 deg","1 deg"]]'],
  ])("refuse %s and name the field", (_, table) => {
    expect(() => setupOf("path.disperser.kind=table", `path.disperser.table=${table}`)).toThrow(
      /^path\.disperser\.table: expected .*(rows such as|quantity|number with a unit)/,
    );
  });

  it("refuse rows of different length", () => {
    expect(() => setupOf('camera.response=[["400 nm",0.5],["500 nm",0.5,0.2,0.1]]')).toThrow(/entries/);
  });
});

describe("settings of the bench in a forecast", () => {
  it("say nothing where they are at rest: no field of theirs stands in the setup", () => {
    const { path, camera } = plain.setup;
    for (const name of ["lens", "tubeRoll", "smoke", "fog", "windowWedge", "levelSlitOffset"])
      expect(path).not.toHaveProperty(name);
    expect(camera.sensor).toBeUndefined();
    expect(plain.curve.vapourBundle).toBeUndefined();
    expect(plain.curve.soft).toBeUndefined();
  });

  it("turn the curve over with the tube, and keep it between", () => {
    const over = seen("path.tubeRoll=180 deg");
    expect(over.vapour.middle.columnGradient / plain.vapour.middle.columnGradient).toBeCloseTo(-1, 9);
    const aslant = seen("path.tubeRoll=30 deg").vapour.columns;
    const straight = plain.vapour.columns;
    // On the axis only the cosine counts; off it a harmonic density says how much more.
    expect(aslant.columnGradient[4] / straight.columnGradient[4]).toBeCloseTo(Math.cos(Math.PI / 6), 3);
    // Light still bends towards the hot side: the far heights lose and gain as the lean asks.
    expect(aslant.columnDensity[4] / straight.columnDensity[4]).toBeCloseTo(1, 6);
  });

  it("move the picture by the slits' displacement, cold and hot alike", () => {
    const moved = seen("path.levelSlitOffset=0.06 mm", "path.plumbSlitOffset=32 um");
    const [was, is] = [plain, moved].map(({ setup, curve }) => curvePoints(setup, coldCurve(curve)));
    // 0.06 mm · 300/300 · 400/300 = 0.08 mm = 5 rows; 32 µm · 400/300 = 2.67 columns, times the prism's own stretch.
    expect(is.row[100] - was.row[100]).toBeCloseTo(5, 2);
    const stretch = plain.curve.map.stretch;
    const at = (points: typeof was, w: number): number => {
      let i = 0;
      while (points.wavelength[i] < w) i++;
      return (
        points.column[i] -
        ((points.wavelength[i] - w) / (points.wavelength[i + 1] - points.wavelength[i])) *
          (points.column[i + 1] - points.column[i])
      );
    };
    expect(at(is, 457e-9) - at(was, 457e-9)).toBeCloseTo(2.6667 * stretch, 2);
  });

  it("leave out what lens, slit and fog take", () => {
    const sum = (light: Float32Array): number => light.reduce((s, v) => s + v, 0);
    const fogged = seen("path.fog=0.7");
    expect(sum(fogged.light) / sum(plain.light)).toBeCloseTo(Math.exp(-0.7), 4);
    const cold = lightOf(coldCurve(fogged.curve), fogged.setup.camera);
    expect(sum(cold)).toBeCloseTo(sum(lightOf(coldCurve(plain.curve), plain.setup.camera)), 3);
    const cut = seen("path.plumbSlitLength=0.2 mm");
    expect(sum(cut.light)).toBeLessThan(0.999 * sum(plain.light));
    expect(sum(cut.light)).toBeGreaterThan(0.9 * sum(plain.light));
  });

  it("blur the ends of the spectrum behind single lenses, and keep the middle", () => {
    const soft = seen("path.lensKind=singlet").light;
    const peak = (light: Float32Array, c: number): number => {
      let most = 0;
      for (let r = 0; r < 120; r++) most = Math.max(most, light[r * 200 + c]);
      return most;
    };
    const across = (c: number): number => peak(soft, c) / peak(plain.light, c);
    expect(across(3)).toBeLessThan(across(100) - 0.02);
    expect(across(100)).toBeGreaterThan(0.99);
  });

  it("take the rate from the lamp's radiance, less what smoke takes", () => {
    const budget = setupOf("camera.rateFrom=budget").camera.rate;
    const arc = setupOf(
      "camera.rateFrom=budget",
      "path.source.kind=carbon-arc",
      "path.source.temperature=3800 K",
    );
    expect(arc.camera.rate / budget).toBeGreaterThan(5);
    const wide = setupOf("camera.rateFrom=budget", "path.plumbSlit=30 um").camera.rate;
    expect(wide / budget).toBeCloseTo(2, 6);
    expect(setupOf("path.smoke=1").camera.rate / plain.setup.camera.rate).toBeCloseTo(Math.exp(-1), 12);
    expect(setupOf("camera.gain=4").camera.fullWell).toBe(15000 / 4);
    expect(() => setupOf("camera.rateFrom=budget", "path.source.kind=flat")).toThrow(/camera\.rateFrom/);
    expect(setupOf("path.windowWedge=1 mrad", "vessel.windowMaterial=sapphire").path.windowGlass).toBe(
      "sapphire",
    );
  });
});

describe("accounts of a forecast", () => {
  it("the ledger leaves nothing out, to 1e-6 and better, with every loss switched on", () => {
    const lossy = seen(
      "path.fog=0.2",
      "path.smoke=0.1",
      "path.lensDiameter=8.4 mm",
      "path.plumbSlitLength=0.25 mm",
      "path.levelSlitOffset=0.03 mm",
    );
    const { book, totals, imbalance } = ledgerOf(lossy);
    expect(imbalance).toBeLessThan(1e-12);
    expect(FATES.reduce((sum, fate) => sum + totals[fate], 0)).toBeCloseTo(1, 12);
    for (const fate of ["absorbed", "fog", "lens", "jaw", "glass", "disperser", "recorded"] as const)
      expect(totals[fate]).toBeGreaterThan(0);
    // What reaches the picture is what the ledger says, before the glass: light of the bundle against recorded plus glass and sensor.
    const { bundle } = lossy.curve;
    const n = bundle.wavelengths.length;
    for (let i = 0; i < n; i += 97) {
      let through = 0;
      for (let h = 0; h < bundle.weights.length; h++)
        through += bundle.weights[h] * bundle.transmission[h * n + i] * Math.exp(-0.1);
      const { glass, disperser, sensor, recorded } = book.shares;
      expect(Math.abs(glass[i] + disperser[i] + sensor[i] + recorded[i] - through)).toBeLessThan(1e-12);
    }
  });

  it("traced rays agree with the small-angle answer where the curve is gentle, and are told apart where it is not", () => {
    const gentle = bendingOf(plain);
    expect(gentle?.rays.length).toBe(6);
    expect(gentle?.worstPixels).toBeLessThan(1);
    expect(gentle?.findings).toEqual([]);
    const setup = setupOf(
      "vessel.bottom=340 degC",
      "camera.pixel=1.5 um",
      "camera.columns=2000",
      "camera.rows=1280",
    );
    const vapour = vapourStage(setup, { grid: COARSE_GRID });
    const curve = curveStage(setup, vapour);
    const steep = bendingOf({ ...plain, setup, vapour, curve });
    expect(steep?.worstPixels).toBeGreaterThan(1);
    expect(steep?.findings.join(" ")).toMatch(/small-angle/);
  });
});

it("each colour's losses know the vessel's glass: windows as thick as stated, a hollow prism's walls in their place", () => {
  const tube = setupOf("path.losses=each-colour", "vessel.windowThickness=7 mm").path;
  expect(tube.windowThickness).toBe(7e-3);
  const dye = parseJsonObject(
    readFileSync(join(import.meta.dirname, "../../examples/dye-prism.json"), "utf8"),
    "dye-prism.json",
  );
  const prism = (...settings: string[]): Forecast =>
    forecast(parseSetup(overrideSetup(dye, [...small, ...settings])));
  const usual = prism();
  expect(usual.setup.path.prismWalls).toBeUndefined();
  const each = prism("path.losses=each-colour");
  const walls = each.setup.path.prismWalls;
  const { solution } = each.vapour;
  if (walls === undefined || solution === undefined) throw new Error("no walls");
  // The angle and the index that stand for the solvent are those that the prism is solved with.
  expect(walls.incidence).toBeCloseTo(solution.incidence, 3);
  expect(walls.liquidIndex).toBeCloseTo(solventIndex("water", 293.15).index(589.3e-9), 3);
  expect(walls.emergence).toBeCloseTo(solution.aimed.deviation + (8 * Math.PI) / 180 - walls.incidence, 3);
  const { book, imbalance } = ledgerOf(each);
  expect(imbalance).toBeLessThan(1e-12);
  expect(Math.max(...book.shares.glass)).toBeGreaterThan(0.1);
});
