/** Recomputes the table of docs/solved-bore.md, so that the page cannot go stale. */
import { stateOf } from "./metal.ts";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { gasRefractivityPerDensity, perAtom } from "../medium/index.ts";
import { curveStage, parseJsonObject, parseSetup, setPath, vapourStage } from "./index.ts";

const root = join(import.meta.dirname, "../..");
const page = readFileSync(join(root, "docs/solved-bore.md"), "utf8");
const demo = parseJsonObject(readFileSync(join(root, "examples/blue-twins.json"), "utf8"), "blue-twins.json");

/** Cells of the row that begins with these words, as numbers. */
function row(start: string): number[] {
  const line = page.split("\n").find((text) => text.startsWith(`| ${start}`));
  if (line === undefined) throw new Error(`no row ${start}`);
  return line
    .split("|")
    .slice(2, 6)
    .map((cell) => Number(cell.trim().replace("−", "-").replace("+", "")));
}

it.each([
  [1, 180],
  [2, 60],
  [3, 30],
])("column %i of the table, a hot strip of %i degrees", (column, strip) => {
  const setup = parseSetup(setPath(demo, "vessel.hotStrip", `${strip} deg`));
  const vapour = vapourStage(setup);
  const curve = curveStage(setup, vapour);
  const { columnDensity, columnGradient, gasColumnGradient } = vapour.middle;
  const own = (centre: number): number => {
    const k = perAtom(
      stateOf(vapour, "a test"),
      Float64Array.of(centre - 1e-10, centre + 1e-10),
    ).refractivityPerDensity;
    return ((k[0] - k[1]) / 2) * columnGradient;
  };
  const [first, second] = curve.lines;
  if (first === undefined || second === undefined) throw new Error("the pair is not in the picture");
  const found: [string, number][] = [
    ["density on the axis", vapour.numbers.density * 1e-22],
    ["column density", columnDensity * 1e-21],
    ["column gradient", columnGradient * 1e-23],
    ["scale height", vapour.numbers.scaleHeight * 1e3],
    ["deflection 0.1 nm from 455.5", own(first.wavelength) * 1e3],
    ["deflection 0.1 nm from 459.3", own(second.wavelength) * 1e3],
    ["half-gap at 455.5", first.halfGap * 1e9],
    ["half-gap at 459.3", second.halfGap * 1e9],
    ["zero between the lines", (curve.zeroBetweenLines ?? 0) * 1e9],
    [
      "bending by argon",
      gasRefractivityPerDensity("Ar", setup.path.centreWavelength) * gasColumnGradient * 1e3,
    ],
  ];
  for (const [name, value] of found) {
    const printed = row(name)[column];
    // Printed to three digits (the zero to a picometre, argon to a microradian).
    const rounding = name.startsWith("zero")
      ? 6e-4
      : name.startsWith("bending")
        ? 6e-4
        : Math.abs(printed) * 6e-3;
    expect(Math.abs(value - printed), `${name}: ${value} against ${printed}`).toBeLessThan(rounding);
  }
});
