import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { solveVapour, type VesselInput } from "../vessel/index.ts";
import { contourPath } from "./contours.ts";
import { heatMap } from "./heat-map.ts";
import { beamFigure, crossFigure, longFigure, wallFigure } from "./vessel-figures.ts";

const TUBE: VesselInput = {
  element: "Cs",
  bore: 0.04,
  heatedLength: 0.4,
  length: 0.8,
  wall: { kind: "measured", bottom: 558, top: 428, ends: 333, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 4000,
};

describe("contours", () => {
  it("of a plane are straight: every end lies where the plane has the value", () => {
    const columns = 9;
    const rows = 7;
    const values = Float64Array.from(
      { length: 63 },
      (_, i) => 2 * (i % columns) + 3 * Math.floor(i / columns),
    );
    const ends = [...contourPath({ columns, rows, values }, 13.5).matchAll(/[ML]([\d.]+) ([\d.]+)/g)];
    expect(ends.length).toBeGreaterThan(8);
    for (const [, x, y] of ends) expect(2 * (Number(x) - 0.5) + 3 * (Number(y) - 0.5)).toBeCloseTo(13.5, 1);
  });

  it("of a circle close: as many ends at every place as pass through it", () => {
    const n = 21;
    const values = Float64Array.from({ length: n * n }, (_, i) =>
      Math.hypot((i % n) - 10, Math.floor(i / n) - 10),
    );
    const ends = [...contourPath({ columns: n, rows: n, values }, 6.3).matchAll(/[ML]([\d.]+ [\d.]+)/g)];
    const count = new Map<string, number>();
    for (const [, at] of ends) count.set(at, (count.get(at) ?? 0) + 1);
    expect([...count.values()].every((times) => times === 2)).toBe(true);
  });

  it("of a saddle do not cross", () => {
    const path = contourPath({ columns: 2, rows: 2, values: Float64Array.of(1, 0, 0, 1) }, 0.4);
    expect(path.match(/M/g)?.length).toBe(2);
  });
});

describe("figures of a vessel", () => {
  const field = solveVapour(TUBE, { radial: 8, angular: 16, axial: 16 });

  it.each([
    ["cross", () => crossFigure(field, "supersaturation")],
    ["long", () => longFigure(field, "gasTemperature")],
    ["density", () => longFigure(field, "density")],
    ["wall", () => wallFigure(field)],
    ["beam", () => beamFigure(field, 0.002)],
  ])("%s: one SVG with title, words and numbers that are numbers", (_, make) => {
    const svg = make();
    expect(svg).toMatch(/^<svg [^>]*role="img"/);
    expect(svg).toMatch(/<title>.+<\/title>\s*<desc>.+<\/desc>/);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(svg.match(/<(?:g|svg|text|path|clipPath)\b/g)?.length).toBeGreaterThan(10);
    expect(svg.trim().endsWith("</svg>")).toBe(true);
  });

  it("refuses a table without rows", () => {
    const bare = { columns: 3, rows: 1, values: new Float64Array(3) };
    const axis = { name: "x", from: 0, to: 1 };
    expect(() => heatMap(bare, { title: "t", quantity: "q", across: axis, up: axis })).toThrow(Refusal);
  });
});
