import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { OUTPUTS } from "./schemas.ts";
import { command } from "./testing/command.ts";

const examples = join(import.meta.dirname, "../../examples");
const heater = join(examples, "heater-sodium.json");
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-vapour-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("vapour", () => {
  it("writes the warm-up, figures and fields, and one document with the series", async () => {
    const place = (name: string): string => join(folder, name);
    const { code, out } = await command(
      "vapour",
      heater,
      "--minutes",
      "20",
      "--power",
      "40 min=0 W",
      "--warm-up",
      place("run"),
      "--figures",
      place("figures"),
      "--fields",
      place("fields"),
      "--json",
    );
    expect(code).toBe(0);
    const said = OUTPUTS.vapour.parse(JSON.parse(out));
    expect(said.series?.time.length).toBe(61);
    expect(said.series?.heater[60]).toBe(0);
    expect(said.fog.columnDensity[0]).toBeLessThanOrEqual(said.columnDensity);
    expect(said.fog.columnGradient[1]).toBeGreaterThanOrEqual(said.columnGradient);
    expect(readFileSync(join(folder, "run/warm-up.csv"), "utf8").split("\n").length).toBe(63);
    expect(readdirSync(place("figures")).sort()).toEqual([
      "beam.svg",
      "cross-density.svg",
      "cross-supersaturation.svg",
      "cross-temperature.svg",
      "long-density.svg",
      "long-supersaturation.svg",
      "long-temperature.svg",
      "wall.svg",
      "warm-up.svg",
    ]);
    const bytes = readFileSync(join(folder, "fields/supersaturation.npy"));
    expect(bytes.subarray(1, 6).toString()).toBe("NUMPY");
    expect(bytes.toString("latin1", 0, 128)).toMatch(/'shape': \(\d+, \d+, \d+\)/);
  });

  it("says which thermocouple matters: the well at the metal, by what its saturated vapour gains in a kelvin", async () => {
    const setup = join(examples, "thermocouples-sodium.json");
    const { code, out } = await command("vapour", setup, "--sensitivities", "--json");
    expect(code).toBe(0);
    const { sensitivities = [], columnGradient } = OUTPUTS.vapour.parse(JSON.parse(out));
    expect(sensitivities.map(({ lever }) => lever).sort()).toEqual(
      [
        ...["vessel.bore", "vessel.gasPressure", "vessel.heatedLength"],
        ...[
          "above",
          "below, left",
          "below, right",
          "left flange",
          "right flange",
          "side",
          "well at the metal",
        ].map((name) => `thermocouple ${name}`),
      ].sort(),
    );
    expect(sensitivities[0].lever).toBe("thermocouple well at the metal");
    // The change that a warmer well makes, foretold from the slope: its share of the wall moves with it.
    const well = sensitivities[0];
    const warmer = await command(
      ...["vapour", setup, "--json", "--set"],
      "vessel.thermocouples.well at the metal=0 deg, 0 mm, 320 degC",
    );
    const moved = OUTPUTS.vapour.parse(JSON.parse(warmer.out)).columnGradient - columnGradient;
    expect(moved / (2 * well.gradient)).toBeCloseTo(1, 1);
    const words = await command("vapour", setup, "--sensitivities");
    expect(words.out).toMatch(/thermocouple well at the metal +318 °?\S* ?\S* *\+1 K +\+\d/);
    // A heater's wall has no fields of its own temperatures.
    const heated = await command("vapour", heater, "--sensitivities");
    expect(heated.out).toMatch(/wall below .*\n/);
    expect(heated.out).not.toContain("vessel.bottom");
    const cell = await command("vapour", join(examples, "cell-sodium.json"), "--sensitivities");
    expect(cell.code).toBe(2);
    expect(cell.err).toMatch(/^--sensitivities: /);
  });

  it.each(["cell-sodium", "flame-sodium", "thermocouples-sodium"])("answers for %s", async (name) => {
    const { code, out } = await command("vapour", join(examples, `${name}.json`), "--json");
    expect(code).toBe(0);
    const said = OUTPUTS.vapour.parse(JSON.parse(out));
    expect(said.columnDensity).toBeGreaterThan(0);
    expect(said.metal === undefined).toBe(name !== "thermocouples-sodium");
  });

  it("advises how cool the top need be and whether air is enough", async () => {
    const { code, out } = await command("vapour", heater, "--advise");
    expect(code).toBe(0);
    expect(out).toMatch(/K below the metal, keeps 97 % of the largest gradient/);
    expect(out).toMatch(/air is enough to cool the top/);
    expect(out).toMatch(/no published measurement/);
  });

  it.each([
    [["--minutes", "soon"], /--minutes/],
    [["--minutes", "10"], /vessel\.heater/],
    [["--power", "noon"], /--power/],
    [["--power", "10 min=1 MW"], /--power/],
    [["--warm-up", "x"], /vessel\.heater/],
  ])("refuses %j for a measured wall, in one sentence, and writes nothing", async (options, sentence) => {
    const { code, err } = await command("vapour", join(examples, "sodium.json"), ...options);
    expect(code).toBe(2);
    expect(err).toMatch(sentence);
    expect(err.trim().split("\n").length).toBe(1);
  });

  it("advises nothing about a flame", async () => {
    const { code, err } = await command("vapour", join(examples, "flame-sodium.json"), "--advise");
    expect(code).toBe(2);
    expect(err).toMatch(/--advise/);
  });
});

describe("forecast", () => {
  it("of an early minute has less vapour than of a late one, and a band of fog", async () => {
    const small = [
      "--set",
      "camera.columns=160",
      "--set",
      "camera.rows=100",
      "--set",
      "camera.pixel=19.2 um",
    ];
    const densities: number[] = [];
    for (const minutes of ["5", "60"]) {
      const { code, out } = await command(
        "forecast",
        heater,
        "-o",
        join(folder, `at-${minutes}`),
        "--minutes",
        minutes,
        ...small,
        "--json",
      );
      expect(code).toBe(0);
      const said = OUTPUTS.forecast.parse(JSON.parse(out));
      densities.push(said.columnDensity);
      expect(said.fog?.lines.length).toBe(said.lines.length);
    }
    expect(densities[0]).toBeLessThan(0.5 * densities[1]);
  });
});
