/** The command `index` in all its forms: vapours, other media, the lecture's model, files. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { OUTPUTS } from "./schemas.ts";
import { command } from "./testing/command.ts";

const folder = mkdtempSync(join(tmpdir(), "crossprism-index-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const media = join(import.meta.dirname, "../../examples/media");

const index = (...args: string[]) => command("index", ...args);

async function medium(words: string, ...args: string[]) {
  const { code, out, err } = await index("--medium", words, ...args, "--json");
  expect(err).toBe("");
  expect(code).toBe(0);
  return OUTPUTS["index-medium"].parse(JSON.parse(out));
}

const potassium = ["--element", "K", "--temperature", "450 K", "--density", "5e20 m-3"];
const range = ["--from", "764 nm", "--to", "772 nm", "--points", "201"];

describe("index of a vapour", () => {
  it("gives the zero between the lines with its uncertainty", async () => {
    const { out } = await index(...potassium, ...range, "--json");
    const { zeros, twoOscillators } = OUTPUTS.index.parse(JSON.parse(out));
    const zero = zeros.find((each) => each.between.join() === "KI-766.70vac,KI-770.11vac");
    // 768.9712(15) nm, F. Holmgren, R. Trubko, I. Hromada, A. Cronin, Phys. Rev. Lett. 109, 243004 (2012)
    expect(Math.abs(zero!.wavelength - 768.9712e-9)).toBeLessThan(3e-12);
    expect(zero!.standardUncertainty).toBeGreaterThan(1e-14);
    expect(zero!.standardUncertainty).toBeLessThan(1e-11);
    expect(twoOscillators).toBeUndefined();
  });

  it("sets one classical electron beside the published strengths, in words and as data", async () => {
    const { out } = await index(...potassium, "--at", "700 nm", "--json");
    const { classical } = OUTPUTS.index.parse(JSON.parse(out));
    expect(classical!.classicalWavelength).toBeCloseTo(767.83e-9, 10);
    expect(classical!.published / classical!.classical).toBeCloseTo(classical!.strengthSum, 1);
    const words = await index(...potassium, "--at", "700 nm");
    expect(words.out).toMatch(/one classical electron \(f = 1\) would give n - 1 = -/);
    expect(words.out).toMatch(/standard uncertainty .*\spm from the strengths/);
  });

  it("says how far two oscillators differ, and keeps the full model's arrays", async () => {
    const plain = OUTPUTS.index.parse(JSON.parse((await index(...potassium, ...range, "--json")).out));
    const { out } = await index(...potassium, ...range, "--two-oscillators", "--json");
    const both = OUTPUTS.index.parse(JSON.parse(out));
    expect(both.refractivity).toEqual(plain.refractivity);
    const { refractivity, largest, largestAt } = both.twoOscillators!;
    const apart = refractivity.map((each, i) => Math.abs(each - both.refractivity[i]));
    expect(largest).toBeGreaterThan(0);
    expect(largest / Math.max(...apart)).toBeCloseTo(1, 6);
    expect(both.wavelength[apart.indexOf(Math.max(...apart))]).toBeCloseTo(largestAt, 18);
    expect((await index(...potassium, ...range, "--two-oscillators")).out).toMatch(
      /two oscillators differ from the full model by up to/,
    );
  });

  it("writes table, figure and data into a folder", async () => {
    const into = join(folder, "k");
    const { code, out } = await index(...potassium, ...range, "--air", "-o", into);
    expect(code).toBe(0);
    expect(out).toContain("index.csv, index.svg and index.json stand in");
    expect(readdirSync(into).sort()).toEqual(["index.csv", "index.json", "index.svg"]);
    const rows = readFileSync(join(into, "index.csv"), "utf8").trim().split("\n");
    expect(rows[0]).toBe("wavelength_air_m,refractivity,absorption_per_m,phase_velocity_c,group_index");
    expect(rows).toHaveLength(202);
    const data = OUTPUTS.index.parse(JSON.parse(readFileSync(join(into, "index.json"), "utf8")));
    expect(Number(rows[1]?.split(",")[1]) / data.refractivity[0]).toBeCloseTo(1, 10);
    const svg = readFileSync(join(into, "index.svg"), "utf8");
    expect(svg).toContain("wavelength in air, nm");
    expect(svg).toMatch(/n = 1 at 768\.7\d\d/);
  });

  it("writes nothing where there is no range to draw", async () => {
    const { code, err } = await index(...potassium, "--at", "700 nm", "-o", join(folder, "never"));
    expect(code).toBe(2);
    expect(err).toMatch(/two or more different wavelengths/);
    expect(readdirSync(folder)).not.toContain("never");
  });
});

describe("index of other media", () => {
  it("glass, water, air and a gas by their names", async () => {
    const at = ["--at", "587.5618 nm", "--air"];
    // catalogue n_d 1.5168 relative to air, times the air's 1.00027
    expect((await medium("glass 517642", ...at)).refractivity[0]).toBeCloseTo(0.5168 + 1.5168 * 2.7e-4, 4);
    // water n_D at 20 degC 1.33299 in air (IAPWS); d line and vacuum within 5e-4
    expect((await medium("water", ...at)).refractivity[0]).toBeCloseTo(0.3334, 3);
    // standard air at 15 degC: 2.77e-4 at the d line (Ciddor 1996)
    expect((await medium("air", ...at)).refractivity[0]).toBeCloseTo(2.77e-4, 6);
    const half = await medium("air 50662.5 Pa at 288.15 K", ...at);
    expect(half.refractivity[0]).toBeCloseTo(1.385e-4, 6);
    // argon 2.8e-4 at 101325 Pa and 273.15 K, common handbook value from memory
    expect((await medium("Ar 101325 Pa at 273.15 K", ...at)).refractivity[0]).toBeCloseTo(2.8e-4, 5);
  });

  it("oscillators from a file: phase faster than c just blue of a line", async () => {
    const found = await medium(`oscillators ${join(media, "oscillators.json")}`, "--at", "588.9 nm");
    expect(found.name).toBe("two free oscillators");
    expect(found.phaseVelocity[0]).toBeGreaterThan(1);
    // n - 1 of one electron far in its wing: r_e N/(2 pi) * lambda^2 / ((lambda/lambda0)^2 - 1), and the weaker one's
    const electron = 2.8179403205e-15;
    const part = (own: number, f: number) =>
      (electron * 1e20 * f * 588.9e-9 ** 2) / (2 * Math.PI * ((588.9e-9 / own) ** 2 - 1));
    expect(found.refractivity[0] / (part(589e-9, 1) + part(600e-9, 0.25))).toBeCloseTo(1, 2);
  });

  it("a dye from a file, with the constant and the error from outside its table", async () => {
    const path = join(media, "dye.json");
    const found = await medium(`dye ${path}`, "--at", "480 nm", "--at", "620 nm");
    expect(found.refractivity[0]).toBeCloseTo(0.33782, 10);
    expect(found.constant).toBeDefined();
    expect(found.outsideError![0]).toBeCloseTo(0, 12);
    expect(found.outsideError![1]).toBeGreaterThan(0);
    // ln 10 * 1.12 / 10 mm, and the water's own
    expect(found.absorption[1]).toBeCloseTo((Math.LN10 * 1.12) / 0.01 + 0.3, 0);
    const words = await index("--medium", `dye ${path}`, "--at", "620 nm");
    expect(words.out).toMatch(/constant added to n/);
    expect(words.out).toMatch(/error from outside the table/);
  });

  it("draws them too", async () => {
    const into = join(folder, "glass");
    const { code } = await index(
      "--medium",
      "glass 517642",
      "--from",
      "400 nm",
      "--to",
      "700 nm",
      "-o",
      into,
    );
    expect(code).toBe(0);
    expect(readFileSync(join(into, "index.svg"), "utf8")).toContain("Index of glass 517642");
  });

  const broken = join(folder, "broken.json");
  writeFileSync(broken, JSON.stringify({ title: "no table", pathLength: "1 cm" }));
  const badUnit = join(folder, "unit.json");
  writeFileSync(
    badUnit,
    JSON.stringify({
      title: "x",
      density: "1e20 m-3",
      oscillators: [{ wavelength: "5 K", strength: 1, width: "1 GHz" }],
    }),
  );
  const cases: [string, string[], RegExp][] = [
    ["neither", [], /--element.*exactly one of --element and --medium/],
    ["both", ["--element", "K", "--medium", "water"], /both --element and --medium/],
    ["an unknown medium", ["--medium", "treacle"], /--medium.*treacle/],
    ["a gas without temperature", ["--medium", "Ar 5000 Pa"], /--medium.*Ar 5000 Pa at 300 K/],
    ["an unknown glass", ["--medium", "glass 123456"], /123456/],
    ["a density with water", ["--medium", "water", "--density", "1e20 m-3"], /--density.*--element/],
    ["a file without its table", ["--medium", `dye ${broken}`], /broken\.json: absorbance/],
    ["a wrong unit in a file", ["--medium", `oscillators ${badUnit}`], /oscillators\.0\.wavelength.*5 K/],
    ["a missing file", ["--medium", "dye nowhere.json"], /nowhere\.json.*no such file/],
  ];
  it.each(cases)("refuses %s", async (_, args, said) => {
    const { code, out, err } = await index(...args, "--at", "500 nm");
    expect(err).toMatch(said);
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).not.toMatch(/NaN|undefined/);
  });
});
