import { describe, expect, it } from "vitest";
import { glassMedium, indexTable } from "../medium/index.ts";
import { linearAxis, logAxis, symlogAxis } from "./axes.ts";
import { thinnedPath } from "./decimate.ts";
import { indexFigure } from "./index-figure.ts";
import { escaped, raised } from "./svg.ts";

const range = (from: number, to: number, count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

describe("the figure of an index", () => {
  const wavelengths = range(763e-9, 773e-9, 4001);
  const potassium = indexTable({ element: "K", temperature: 500, density: 5e20, wavelengths });
  const svg = indexFigure(potassium, { title: "K vapour <hot>", state: "5e20 m^-3" });

  it("is a whole document with title, words, axes, units and the sentence on the front", () => {
    expect(svg).toMatch(/^<svg [^>]*role="img"[^>]*>/);
    for (const said of [
      "<title id=",
      "<desc id=",
      "n \u2212 1",
      "absorption, m<tspan",
      "phase velocity, v/c \u2212 1",
      "group index \u2212 1",
      "wavelength in vacuum, nm",
      "The front of a signal travels at c, whatever the phase velocity.",
      "K vapour &lt;hot&gt;",
    ])
      expect(svg).toContain(said);
    expect(svg).not.toMatch(/NaN|Infinity|undefined|#[0-9a-f]{3,6}\b(?!")/);
    // every element that is opened is closed
    const opened = svg.match(/<[a-z]+(?:\s[^>]*[^/])?>/gi) ?? [];
    expect(opened).toHaveLength((svg.match(/<\/[a-z]+>/gi) ?? []).length);
  });

  it("draws no more than two points per pixel column", () => {
    const paths = [...svg.matchAll(/class="main" d="(M[^"]*L[^"]*)"/g)].map((match) => match[1]);
    expect(paths).toHaveLength(2);
    for (const path of paths) {
      const columns = new Map<number, number>();
      for (const [, x] of path.matchAll(/[ML]([\d.]+) /g)) {
        const column = Math.floor(Number(x));
        columns.set(column, (columns.get(column) ?? 0) + 1);
      }
      expect(Math.max(...columns.values())).toBe(2);
      expect(columns.size).toBeGreaterThan(700);
    }
  });

  it("names a mark, counts in air where told and takes wavelengths in any order", () => {
    const shown = range(763e-9, 773e-9, 4001).reverse();
    const figure = indexFigure(potassium, {
      title: "K",
      shown,
      countedIn: "air",
      marks: [
        { wavelength: 766.5e-9, text: "766.50" },
        { wavelength: 600e-9, text: "outside" },
      ],
    });
    expect(figure).toContain("wavelength in air, nm");
    expect(figure).toContain(">766.50<");
    expect(figure).not.toContain("outside");
  });

  it("says so where a medium has no absorption, and refuses a single wavelength", () => {
    const glass = glassMedium("517642");
    expect(indexFigure(glass.indexAt(range(400e-9, 700e-9, 50)), { title: "glass" })).toContain(
      "no absorption in the model",
    );
    expect(() => indexFigure(glass.indexAt(Float64Array.of(5e-7)), { title: "glass" })).toThrow(
      /two or more different wavelengths/,
    );
  });
});

describe("axes", () => {
  it("linear: ends at 0 and 1, round numbers", () => {
    const axis = linearAxis(400, 1000);
    expect([axis.place(400), axis.place(1000)]).toEqual([0, 1]);
    expect(axis.ticks.map((tick) => tick.text)).toContain("600");
  });

  it("symlog: odd about zero, monotone, zero among its ticks, all values inside", () => {
    const axis = symlogAxis(Float64Array.of(-1e-2, -1e-5, 0, 3e-6, 2e-2));
    expect(axis.kind).toBe("symlog");
    const zero = axis.place(0);
    expect(axis.place(1e-3) - zero).toBeCloseTo(zero - axis.place(-1e-3), 12);
    expect(axis.place(-1e-2)).toBeGreaterThan(0);
    expect(axis.place(2e-2)).toBeLessThan(1);
    expect(axis.place(1e-6)).toBeGreaterThan(zero);
    expect(axis.ticks.find((tick) => tick.text === "0")?.at).toBe(zero);
  });

  it("symlog: one value everywhere, zeros only, and one sign over many decades stay finite", () => {
    for (const values of [
      [0, 0],
      [0.5, 0.5],
      [1e-9, 1e-3],
      [-1e-9, -1e-3],
    ]) {
      const axis = symlogAxis(Float64Array.from(values));
      for (const value of values) expect(Number.isFinite(axis.place(value))).toBe(true);
      expect(axis.ticks.length).toBeGreaterThan(0);
      expect(axis.ticks.every((tick) => tick.at >= -1e-12 && tick.at <= 1 + 1e-12)).toBe(true);
    }
  });

  it("log: a decade takes equal room everywhere; none without a positive value", () => {
    const axis = logAxis(Float64Array.of(0, 1e-2, 1e4))!;
    expect(axis.place(10) - axis.place(1)).toBeCloseTo(axis.place(1000) - axis.place(100), 12);
    expect(logAxis(Float64Array.of(0, 0))).toBeUndefined();
  });
});

describe("thinning and text", () => {
  it("keeps the height of a line narrower than a pixel and lifts the pen at a hole", () => {
    const x = Float64Array.of(0, 0.1, 0.2, 0.3, 1, 2, 3);
    const y = Float64Array.of(5, 9, 1, 5, 5, Number.NaN, 5);
    expect(thinnedPath(x, y)).toBe("M0.10 9.00L0.20 1.00L1.00 5.00M3.00 5.00");
  });

  it("raises powers and keeps what XML reserves", () => {
    expect(raised("m^-3 & s")).toMatch(/^m<tspan [^>]*>\u22123<\/tspan>.* &amp; s$/);
    expect(escaped("a\u0001<b")).toBe("a&lt;b");
  });
});
