import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { expose, type Frame, renderLight } from "../picture/index.ts";
import {
  coldCurve,
  curveStage,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../setup/index.ts";
import { readFileSync } from "node:fs";
import type { Geometry } from "./geometry.ts";
import { adoptReading, heightScale, parseMarks, readPicture, turnWanted, type HandMarks } from "./index.ts";
import { markedTrace } from "./marks.ts";
import type { RoughTrace } from "./rough-trace.ts";

const setup = benchSetup();
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const { frame: hot } = pictureStage(setup, curve);
const cold = expose(pictureStage(setup, coldCurve(curve)).light, setup.camera, 2);
const options = { beamHeights: 3, rough: true };
const pixel = setup.camera.pixel;
const columnOf = (wavelength: number): number => curve.map.position(wavelength) / pixel + hot.columns / 2;
const [first, second] = curve.lines.map((line) => line.wavelength);

describe("hand marks", () => {
  it("two marks on the lines give the wavelength scale: the separation comes out as the marks say, with their uncertainty", () => {
    const scale = [
      {
        column: columnOf(first) - 60,
        wavelength: curve.map.wavelengthAt((columnOf(first) - 60 - 200) * pixel),
      },
      {
        column: columnOf(second) + 40,
        wavelength: curve.map.wavelengthAt((columnOf(second) + 40 - 200) * pixel),
      },
    ] as const;
    const reading = readPicture({ hot, cold, setup, marks: { scale }, options });
    expect(reading.wavelengthScale.source).toBe("marks");
    expect(reading.marks).toEqual({ scale });
    expect(Math.abs(reading.lineSeparation!.value - (second - first))).toBeLessThan(2e-12);
    const span = (second - first) / (columnOf(second) - columnOf(first) + 100);
    // Two marks, half a pixel each, over their distance.
    expect(reading.lineSeparation!.standardUncertainty).toBeCloseTo(
      (Math.SQRT1_2 * (second - first)) / (scale[1].column - scale[0].column),
      13,
    );
    expect(span).toBeGreaterThan(0);
    // A mark one column off moves the scale by its share.
    const off = [scale[0], { ...scale[1], column: scale[1].column + 3 }] as const;
    const wrong = readPicture({ hot, cold, setup, marks: { scale: off }, options });
    const share = 3 / (scale[1].column + 3 - scale[0].column);
    expect(wrong.lineSeparation!.value / reading.lineSeparation!.value).toBeCloseTo(1 - share, 3);
  }, 300_000);

  it("a struck stain and a region keep the numbers where they were; both leave the fit", () => {
    const stained: Frame = { ...hot, samples: hot.samples.slice() };
    for (let r = 112; r < 116; r++)
      for (let c = 180; c < 230; c++) stained.samples[r * hot.columns + c] = 50_000;
    const clean = readPicture({ hot, cold, setup, options });
    const marks: HandMarks = {
      struck: [{ columns: [178, 232], rows: [105, 125] }],
      region: { columns: [10, 389], rows: [20, 209] },
    };
    const struck = readPicture({ hot: stained, cold, setup, marks, options });
    expect(struck.columnGradient.value / clean.columnGradient.value).toBeCloseTo(1, 2);
    expect(struck.columnDensity.value / clean.columnDensity.value).toBeCloseTo(1, 1);
    expect(struck.mask[114 * hot.columns + 200]).not.toBe(1);
    expect(struck.mask[114 * hot.columns + 3]).not.toBe(1);
    expect(struck.degreesOfFreedom).toBeLessThan(clean.degreesOfFreedom - 300);
  }, 300_000);

  it("added and moved points stand in the trace", () => {
    const marks: HandMarks = {
      points: [
        { column: 60.5, row: 90 },
        { column: 70.5, row: 95, from: 80.5, uncertainty: 0.4 },
      ],
    };
    const { trace } = readPicture({ hot, cold, setup, marks, options });
    const at = (column: number) => trace.find((p) => Math.abs(p.column - column) < 0.6);
    expect(at(60.5)).toMatchObject({ standardUncertainty: 1 });
    expect(at(60.5)!.row).toBeCloseTo(90, 6);
    expect(at(70.5)).toMatchObject({ standardUncertainty: 0.4 });
    expect(at(80.5)?.row ?? -1).not.toBeCloseTo(95, 0);
  }, 300_000);

  it("a document of marks is read, and refused by name where it is wrong", () => {
    const marks = parseMarks({
      points: [{ column: 3, row: 4 }],
      struck: [{ columns: [1, 5], rows: [2, 9] }],
      scale: [
        { column: 20, wavelength: "766.7009 nm vacuum" },
        { column: 300, wavelength: "769.8965 nm air" },
      ],
    });
    expect(marks.scale?.[0].wavelength).toBeCloseTo(766.7009e-9, 15);
    expect(marks.scale?.[1].wavelength).toBeCloseTo(770.1084e-9, 13);
    expect(() => parseMarks({ scale: [{ column: 20, wavelength: "766 nm vacuum" }] })).toThrow(/two marks/);
    expect(() => parseMarks({ points: [{ column: "3", row: 4 }] })).toThrow(/point 1 column/);
    expect(() => parseMarks({ point: [] })).toThrow(/unknown entry/);
  });
});

describe("where a hand mark takes hold", () => {
  /** A camera rolled by 0.05 rad and a curve 80 rows up: its points stand 4 columns beside their slots. */
  const geometry: Geometry = { columns: 200, rows: 200, roll: 0.05, smile: 0 };
  const trace: RoughTrace = {
    height: new Float64Array(200).fill(80),
    sigma: new Float64Array(200).fill(0.1),
    light: new Float64Array(200).fill(1),
    lightSigma: 0.01,
  };
  const reference = new Float64Array(200).fill(2);
  const out = (marks: HandMarks): number[] => {
    const { sigma } = markedTrace(trace, reference, geometry, marks);
    return Array.from(sigma.keys()).filter((k) => sigma[k] === Number.POSITIVE_INFINITY);
  };
  const place = (k: number): { column: number; row: number } => {
    const [u, v] = [k + 0.5 - 100, 80];
    return {
      column: 100 + u * Math.cos(0.05) - v * Math.sin(0.05),
      row: 100 - u * Math.sin(0.05) - v * Math.cos(0.05),
    };
  };

  it("a moved point leaves the place it came from, wherever it was moved to", () => {
    const was = place(120);
    // Moved 60 rows down its column: that row's line crosses the old column three slots further.
    const to = { column: was.column, row: was.row + 60 };
    expect(out({ points: [{ ...to, from: was.column }] })).toEqual([120]);
  });

  it("a point put where another was moved away from stays", () => {
    const points = [
      { ...place(120), from: place(130).column },
      { ...place(110), from: place(120).column },
    ];
    expect(out({ points })).toEqual([130]);
    expect(markedTrace(trace, reference, geometry, { points }).sigma[120]).toBe(1);
  });

  it("a moved point with no traced one near its old place takes none away", () => {
    const gap = { ...trace, sigma: trace.sigma.map((s, k) => (k > 120 && k < 140 ? Infinity : s)) };
    const { sigma } = markedTrace(gap, reference, geometry, {
      points: [{ ...place(60), from: place(130).column }],
    });
    expect(sigma.filter((s) => s === Number.POSITIVE_INFINITY)).toHaveLength(19);
  });

  it("an area struck about one point takes that point and leaves its neighbours two columns off", () => {
    const { column, row } = place(120);
    const struck = [
      { columns: [Math.floor(column), Math.floor(column)], rows: [Math.floor(row - 1), Math.floor(row + 1)] },
    ] as const;
    const gone = out({ struck });
    expect(gone).toContain(120);
    expect(gone.length).toBeLessThanOrEqual(3);
    const { light } = markedTrace(trace, reference, geometry, { struck });
    expect([light[120], light[117], light[123]]).toEqual([2, 1, 1]);
  });

  it("marks that know how the frames were turned are taken with it, and refused with another turn by name", () => {
    const turned = parseMarks({ region: { columns: [3, 3], rows: [0, 9] }, turn: "left" });
    expect(turned).toEqual({ region: { columns: [3, 3], rows: [0, 9] }, turn: "left" });
    expect(turnWanted({ hot, cold, setup, marks: turned })).toBe("left");
    expect(() => parseMarks({ turn: "over" })).toThrow(/marks turn.*"left" or "right"/s);
  });
});

describe("height scale", () => {
  it.each([false, true])(
    "two cold frames with the slit moved give pixels per rad with its sign (inverted: %s)",
    (inverted) => {
      const bench = { ...setup, path: { ...setup.path, inverted } };
      const stage = coldCurve(curveStage(bench, vapour));
      // The slit 0.2 mm higher: its light comes in 0.2 mm/300 mm lower.
      const shift = 2e-4;
      const lower = stage.bundle.deflection.map((d) => d - shift / bench.path.collimatorFocalLength);
      const light = renderLight({ ...stage.bundle, deflection: lower }, stage.map, stage.scale, bench.camera);
      const scale = heightScale({
        cold: expose(renderLight(stage.bundle, stage.map, stage.scale, bench.camera), bench.camera, 5),
        moved: expose(light, bench.camera, 6),
        shift,
        shiftUncertainty: 0,
        setup: bench,
      });
      expect(scale.bySetup).toBeCloseTo(stage.scale.perRadian / pixel, 6);
      expect(Math.abs(scale.pixelsPerRadian / scale.bySetup - 1)).toBeLessThan(1e-3);
      expect(Math.abs(scale.pixelsPerRadian - scale.bySetup)).toBeLessThan(4 * scale.standardUncertainty);
      const reading = readPicture({
        hot,
        cold,
        setup,
        heightScale: { ...scale, pixelsPerRadian: (1.1 * stage.scale.perRadian) / pixel },
        options,
      });
      if (!inverted)
        expect(reading.columnGradient.value / vapour.middle.columnGradient).toBeCloseTo(1 / 1.1, 2);
      // The focusing lens and the pixel no longer set the scale, and are not said to.
      expect(reading.assumptions.filter((text) => /scale of angles|height scale/.test(text))).toEqual([
        expect.stringMatching(/^height scale by the level slit moved/),
      ]);
    },
    300_000,
  );

  it("a slit that was not moved is refused", () => {
    expect(() => heightScale({ cold, moved: cold, shift: 1e-4, setup })).toThrow(/moved/);
  });
});

describe("adopting a reading", () => {
  it("gives a setup whose forecast has the read columns, slit, focus and middle wavelength", () => {
    const text = readFileSync(new URL("../../examples/potassium-grating.json", import.meta.url), "utf8");
    const document = overrideSetup(parseJsonObject(text, "k"), [
      "camera.pixel=9 um",
      "camera.columns=400",
      "camera.rows=230",
    ]);
    const real = parseSetup(
      overrideSetup(document, [
        "vessel.bottom=248 degC",
        "vessel.top=185 degC",
        "path.levelSlit=65 um",
        "path.defocus=9 um",
        "path.centreWavelength=768.3 nm",
      ]),
    );
    const stage = curveStage(real, vapourStage(real));
    const reading = readPicture({
      hot: pictureStage(real, stage).frame,
      cold: expose(pictureStage(real, coldCurve(stage)).light, real.camera, 9),
      setup,
      options: { beamHeights: 5 },
    });
    const { document: adopted, changes } = adoptReading(document, reading);
    const now = parseSetup(adopted);
    const { middle } = vapourStage(now);
    expect(middle.columnDensity / reading.columnDensity.value).toBeCloseTo(1, 2);
    const uncertain = reading.columnGradient.combinedUncertainty;
    expect(Math.abs(middle.columnGradient - reading.columnGradient.value)).toBeLessThan(uncertain);
    expect(now.path.centreWavelength).toBeCloseTo(768.3e-9, 11);
    expect(now.path.levelSlit / 65e-6).toBeCloseTo(1, 1);
    expect(now.path.defocus / 9e-6).toBeCloseTo(1, 1);
    const paths = changes.map((c) => c.path);
    for (const path of ["vessel.bottom", "path.levelSlit", "path.defocus", "path.centreWavelength"])
      expect(paths).toContain(path);
    for (const change of changes) expect(change.why.length).toBeGreaterThan(8);
    // Before and after in one unit, defaults by their value.
    const slit = changes.find((c) => c.path === "path.levelSlit");
    expect(slit?.from).toBe("50 um");
    expect(slit?.to).toMatch(/^6[45]\.\d+ um$/);
    expect(changes.find((c) => c.path === "path.defocus")?.from).toMatch(/ um \(default\)$/);
    // What the reading agrees with is left alone.
    expect(paths).not.toContain("path.inverted");
    expect(paths).not.toContain("path.cameraFocalLength");
  }, 300_000);

  it("a gradient steeper than the walls make it goes to a narrower hot strip, and that is said", () => {
    const text = readFileSync(new URL("../../examples/potassium-grating.json", import.meta.url), "utf8");
    const document = parseJsonObject(text, "k");
    const sized = overrideSetup(document, ["camera.pixel=9 um", "camera.columns=400", "camera.rows=230"]);
    const real = parseSetup(overrideSetup(sized, ["vessel.hotStrip=120 deg"]));
    const stage = curveStage(real, vapourStage(real));
    const reading = readPicture({
      hot: pictureStage(real, stage).frame,
      cold: expose(pictureStage(real, coldCurve(stage)).light, real.camera, 9),
      setup,
      options,
    });
    const { document: adopted, changes, left } = adoptReading(sized, reading);
    const { middle } = vapourStage(parseSetup(adopted));
    expect(middle.columnDensity / reading.columnDensity.value).toBeCloseTo(1, 2);
    expect(Math.abs(middle.columnGradient / reading.columnGradient.value - 1)).toBeLessThan(0.01);
    expect(changes.map((c) => c.path)).toContain("vessel.hotStrip");
    expect(left.join(" ")).toMatch(/look alike in one picture/);
  }, 300_000);
});
