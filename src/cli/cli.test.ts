import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
  copyFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePng } from "../picture/index.ts";
import { OUTPUTS } from "./schemas.ts";
import { command } from "./testing/command.ts";

const examples = join(import.meta.dirname, "../../examples");
const twins = join(examples, "blue-twins.json");
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

// Smaller pictures keep the tests quick; the chain is the same.
const small = ["--set", "camera.columns=320", "--set", "camera.rows=200", "--set", "camera.pixel=9.6 um"];

describe("what the commands print", () => {
  it("index gives every array of the contract, checked by its own schema", async () => {
    const { code, out, err } = await command(
      "index",
      "--element",
      "K",
      "--temperature",
      "450 K",
      "--density",
      "5e20 m-3",
      "--from",
      "765 nm",
      "--to",
      "768 nm",
      "--points",
      "7",
      "--json",
    );
    expect(err).toBe("");
    expect(code).toBe(0);
    const result = OUTPUTS.index.parse(JSON.parse(out));
    expect(result.wavelength).toHaveLength(7);
    expect(result.wavelength[0]).toBeCloseTo(765e-9, 18);
    expect(result.wavelength[6]).toBeCloseTo(768e-9, 18);
    for (const key of ["refractivity", "absorption", "phaseVelocity", "groupIndex"] as const)
      expect(result[key]).toHaveLength(7);
    expect(result.refractivity[0]).toBeLessThan(0);
    expect(result.refractivity[6]).toBeGreaterThan(0);
  });

  it("index takes single wavelengths, saturation and air wavelengths", async () => {
    const vacuum = await command(
      "index",
      "--element",
      "Na",
      "--saturated-at",
      "560 K",
      "--at",
      "589.2 nm",
      "--at",
      "590 nm",
      "--json",
    );
    expect(vacuum.code).toBe(0);
    const result = OUTPUTS.index.parse(JSON.parse(vacuum.out));
    expect(result.wavelength).toHaveLength(2);
    expect(result.temperature).toBeCloseTo(560, 9);
    const air = OUTPUTS.index.parse(
      JSON.parse(
        (
          await command(
            "index",
            "--element",
            "Na",
            "--saturated-at",
            "560 K",
            "--at",
            "589.0365 nm",
            "--air",
            "--json",
          )
        ).out,
      ),
    );
    expect(air.wavelength[0]).toBeCloseTo(589.0365e-9, 18);
    // 589.0365 nm in air is 589.1997 nm in vacuum (0.1632 nm apart at sodium D, Morton 2003).
    expect(air.refractivity[0] / result.refractivity[0]).toBeCloseTo(1, 1);
  });

  it("vapour gives columns and numbers, negative gradient for dense below", async () => {
    const { code, out } = await command("vapour", twins, "--json");
    expect(code).toBe(0);
    const result = OUTPUTS.vapour.parse(JSON.parse(out));
    expect(result.columnGradient).toBeLessThan(0);
    expect(result.columnDensity).toBeGreaterThan(1e21);
    expect(result.onAxis.gasTemperature).toBeGreaterThan(428);
    expect(result.onAxis.gasTemperature).toBeLessThan(559);
  });

  it("vapour of a heated tube adds wall, heat and warm-up, and answers for a minute of it", async () => {
    const heated = join(import.meta.dirname, "../../examples/heater-sodium.json");
    const at = async (...more: string[]) => {
      const { code, out } = await command("vapour", heated, "--json", ...more);
      expect(code).toBe(0);
      const { shell } = OUTPUTS.vapour.parse(JSON.parse(out));
      if (shell === undefined) throw new Error("no shell in the answer");
      return shell;
    };
    const steady = await at();
    const { heater, strip, top, ends, stored } = steady.balance;
    expect(heater).toBe(120);
    expect(Math.abs(strip + top + ends - heater)).toBeLessThan(1e-3);
    expect(Math.abs(stored)).toBeLessThan(1e-3);
    expect(steady.readyAfter).toBeGreaterThan(300);
    expect(steady.warmUp.bottom.at(-1)).toBeCloseTo(steady.wall.bottom, 0);
    const early = await at("--minutes", "5");
    expect(early.wall.bottom).toBeLessThan(steady.wall.bottom - 20);
    expect(early.balance.stored).toBeGreaterThan(10);
    const { code, err } = await command("vapour", twins, "--minutes", "5");
    expect(code).toBe(2);
    expect(err).toMatch(/--minutes.*vessel\.heater/);
  });

  it("forecast writes its four files, and the same seed gives the same bytes", async () => {
    const a = join(folder, "a");
    const b = join(folder, "b");
    const { code, out } = await command("forecast", twins, "-o", a, ...small, "--json");
    expect(code).toBe(0);
    const summary = OUTPUTS.forecast.parse(JSON.parse(out));
    expect(summary.lines.map((line) => line.line)).toEqual(["CsI-455.66vac", "CsI-459.45vac"]);
    expect(summary.imageInverted).toBe(false);
    expect(readdirSync(a).sort()).toEqual(["curve.csv", "picture.png", "summary.json", "view.png"]);
    await command("forecast", twins, "-o", b, ...small);
    for (const name of readdirSync(a))
      expect(readFileSync(join(a, name)).equals(readFileSync(join(b, name)))).toBe(true);
    const picture = decodePng(readFileSync(join(a, "picture.png")));
    expect([picture.columns, picture.rows, picture.depth, picture.channels]).toEqual([320, 200, 16, 1]);
    const [header, first] = readFileSync(join(a, "curve.csv"), "utf8").split("\n");
    expect(header).toBe("wavelength_vacuum_m,deflection_rad,transmission,column_px,row_px");
    expect(first?.split(",")).toHaveLength(5);
  });

  it("forecast --cold draws the undisturbed line and finds no lines, columns or faults in it", async () => {
    const made = join(folder, "cold");
    const { code, out } = await command("forecast", twins, "--cold", "-o", made, ...small, "--json");
    expect(code).toBe(0);
    const summary = OUTPUTS.forecast.parse(JSON.parse(out));
    expect([summary.cold, summary.lines, summary.columnDensity, summary.findings]).toEqual([true, [], 0, []]);
    const rows = readFileSync(join(made, "curve.csv"), "utf8").trim().split("\n").slice(1);
    for (const row of rows) expect(Number(row.split(",")[1])).toBe(0);
    expect(rows.length).toBeGreaterThan(100);
  });

  it("check names findings with sources, and cautions for the metal", async () => {
    const { code, out } = await command("check", twins, "--json");
    expect(code).toBe(0);
    const result = OUTPUTS.check.parse(JSON.parse(out));
    expect(result.cautions.map((caution) => caution.code)).toContain("alkali-and-water");
    expect(result.findings.length).toBeGreaterThan(2);
    for (const finding of [...result.findings, ...result.cautions])
      expect(finding.source.length).toBeGreaterThan(5);
  });

  it("read and diagnose give their numbers, the overlay, and causes whose weights sum to 1", async () => {
    const hot = join(folder, "hot");
    const cold = join(folder, "cold-frame");
    const half = ["--set", "camera.columns=640", "--set", "camera.rows=400", "--set", "camera.pixel=4.8 um"];
    await command("forecast", twins, "-o", hot, ...half);
    await command("forecast", twins, "--cold", "-o", cold, ...half);
    const photograph = [
      join(hot, "picture.png"),
      "--setup",
      twins,
      "--cold",
      join(cold, "picture.png"),
      ...half,
    ];
    const read = await command("read", ...photograph, "-o", join(folder, "reading"), "--json");
    expect(read.code).toBe(0);
    const reading = OUTPUTS.read.parse(JSON.parse(read.out));
    expect(reading.columnGradient.value).toBeLessThan(0);
    expect(reading.lineColumns).toHaveLength(2);
    expect(readdirSync(join(folder, "reading")).sort()).toEqual([
      "correlation.svg",
      "overlay.png",
      "overlay.svg",
      "phase.csv",
      "reading.json",
      "residual.svg",
    ]);
    const diagnosis = OUTPUTS.diagnose.parse(
      JSON.parse((await command("diagnose", ...photograph, "--json")).out),
    );
    expect(diagnosis.causes.reduce((sum, cause) => sum + cause.weight, 0)).toBeCloseTo(1, 9);
    expect(diagnosis.causes[0].cause).toBe("as-predicted");
  });

  it("data prints a published value with unit, source and origin", async () => {
    const { code, out } = await command("data", "lines.KI-766.70vac.f_absorption");
    expect(code).toBe(0);
    expect(out).toMatch(/0\.6682/);
    expect(out).toMatch(/Morton/);
    expect(out).toMatch(/looked-up/);
  });

  it("schema prints the schema of the setup and of every output", async () => {
    for (const name of ["setup", ...Object.keys(OUTPUTS)]) {
      const { code, out } = await command("schema", name);
      expect(code).toBe(0);
      expect(JSON.parse(out)).toHaveProperty("type", "object");
    }
  });
});

describe("input at fault: one sentence, exit code 2, nothing half-written", () => {
  const cases: [string, string[], RegExp][] = [
    [
      "an unknown element",
      ["index", "--element", "Xx", "--temperature", "450 K", "--density", "5e20 m-3", "--at", "500 nm"],
      /element.*Xx/,
    ],
    [
      "a unit that is no length",
      ["vapour", twins, "--set", "vessel.bore=250 K mm"],
      /vessel\.bore.*250 K mm/,
    ],
    ["negative pressure", ["vapour", twins, "--set", "vessel.gasPressure=-1 mbar"], /vessel\.gasPressure/],
    ["a newer version", ["vapour", twins, "--set", "version=2"], /version/],
    ["a missing file", ["vapour", "nowhere.json"], /nowhere\.json.*no such file/],
    ["an unknown command", ["frocast", twins], /unknown command.*forecast/i],
    ["an unknown option", ["vapour", twins, "--jsn"], /unknown option.*--json/i],
    ["a forecast without a folder", ["forecast", twins], /--output/],
    ["a lamp without lines", ["read", twins, "--setup", twins, "--lamp", twins], /--lamp/],
    ["a text as picture", ["read", twins, "--setup", twins], /blue-twins\.json/],
    ["an unknown schema", ["schema", "everything"], /expected one of setup, .*index, /],
    ["an unknown value", ["data", "lines.KI-766.70vac.f_absorbtion"], /f_absorption/],
    ["a strange port", ["open", "--port", "99999"], /--port/],
  ];
  it.each(cases)("%s", async (_, args, said) => {
    const { code, out, err } = await command(...args);
    expect(err).toMatch(said);
    expect(code).toBe(2);
    expect(err.trim().split("\n")).toHaveLength(1);
    expect(err).not.toMatch(/NaN|undefined|\bat .*:\d+:\d+/);
    expect(out).toBe("");
  });

  it("a truncated PNG", async () => {
    const made = join(folder, "cut");
    await command("forecast", twins, "-o", made, ...small);
    const cut = join(made, "picture.png");
    truncateSync(cut, 4000);
    const { code, err } = await command("read", cut, "--setup", twins, "-o", join(folder, "never"));
    expect(code).toBe(2);
    expect(err).toMatch(/picture\.png/);
    expect(readdirSync(folder)).not.toContain("never");
  });

  it("gives the record with --json", async () => {
    const { code, out } = await command("vapour", "nowhere.json", "--json");
    expect(code).toBe(2);
    expect(JSON.parse(out)).toMatchObject({ refusal: { field: "nowhere.json", code: "no-file" } });
  });

  it("leaves no part files where the folder cannot be written", async () => {
    const file = join(folder, "a-file");
    writeFileSync(file, "x");
    const { code, err } = await command("forecast", twins, "-o", join(file, "inside"), ...small);
    expect(code).toBe(2);
    expect(err).toMatch(/cannot be written/);
    expect(readFileSync(file, "utf8")).toBe("x");
  });

  it("keeps an earlier result when a later one is refused", async () => {
    const made = join(folder, "kept");
    await command("forecast", twins, "-o", made, ...small);
    const copy = join(folder, "kept.png");
    copyFileSync(join(made, "picture.png"), copy);
    const { code } = await command("forecast", twins, "-o", made, "--set", "vessel.gasPressure=-1 mbar");
    expect(code).toBe(2);
    expect(readFileSync(join(made, "picture.png")).equals(readFileSync(copy))).toBe(true);
    expect(readdirSync(made).filter((name) => name.includes("part"))).toEqual([]);
  });
});
