import { readdirSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { trimmed } from "../../scripts/lib/page-data.ts";
import { projectFiles, root, textOf } from "./tree.ts";

const FILES = readdirSync(`${root}data`).filter((name) => name.endsWith(".json"));
const EXAMPLES = projectFiles().filter((name) => /^examples\/[^/]*\.json$/.test(name));

const load = async () => {
  vi.resetModules();
  return {
    plan: await import("../../src/plan/index.ts"),
    reference: await import("../../src/reference/index.ts"),
    setup: await import("../../src/setup/index.ts"),
  };
};
type Rooms = Awaited<ReturnType<typeof load>>;

let whole: Rooms;
let page: Rooms;
beforeAll(async () => {
  whole = await load();
  for (const name of FILES) {
    const content: unknown = JSON.parse(textOf(`data/${name}`));
    vi.doMock(`../../data/${name}`, () => ({ default: trimmed(name, content) }));
  }
  page = await load();
});
afterAll(() => {
  for (const name of FILES) vi.doUnmock(`../../data/${name}`);
  vi.resetModules();
});

/** What the page shows no one: texts about a figure, and figures that it never reckons with. */
const UNSHOWN = new Set([
  ...["source", "note", "caution", "confidence", "validity", "formula", "further"],
  ...["airWavelength", "lifetime", "indexD", "abbe"],
]);
const numbers = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value, (key, each: unknown) => {
      const lampLine = key === "airWavelength" && typeof each === "object";
      if (UNSHOWN.has(key) && !lampLine) return undefined;
      return key === "uncertainty" && typeof each === "string" ? undefined : each;
    }),
  );

const tables = ({ reference }: Rooms) => ({
  // The page prints no constant by its name.
  constants: reference.CONSTANTS.map((each) => ({ ...each, name: each.id })),
  lines: reference.LINES,
  isotopes: reference.ISOTOPES,
  shifts: reference.ISOTOPE_SHIFTS,
  pressures: reference.VAPOUR_PRESSURES,
  foreign: reference.FOREIGN_GAS,
  own: reference.SELF_BROADENING,
  diffusion: reference.DIFFUSION,
  pairs: reference.LENNARD_JONES,
  transport: reference.GAS_TRANSPORT,
  glasses: [reference.GLASSES, reference.fusedSilica()],
  air: [reference.ciddorParameters(), reference.standardAir("edlen-1953")],
  gases: reference.DISPERSION_GASES.map((gas) => reference.gasDispersionOf(gas)),
  lamps: [reference.LAMP_LINES, reference.FRAUNHOFER],
  arc: [reference.CARBON_ARC_TEMPERATURE, reference.bandHeads("CN-violet-bands")],
  tungsten: reference.tungstenEmissivity(),
  eye: Object.values(reference.cie1931()).filter((column) => column instanceof Float64Array),
});

describe("the reference data as the page carries them", () => {
  it("are those that the rooms were given here, much shorter", () => {
    expect(page.reference.LINES[0]?.sources.wavelength.source).toBe("lines.json");
    expect(whole.reference.LINES[0]?.sources.wavelength.source).toContain("Morton");
    const all = FILES.map((name) => JSON.stringify(JSON.parse(textOf(`data/${name}`)))).join("");
    const short = FILES.map((name) => JSON.stringify(trimmed(name, JSON.parse(textOf(`data/${name}`))))).join(
      "",
    );
    expect(short.length).toBeLessThan(0.5 * all.length);
  });

  it("hold the same numbers", () => {
    const kept = tables(page);
    for (const [name, table] of Object.entries(tables(whole)))
      expect(numbers(kept[name as keyof typeof kept]), name).toEqual(numbers(table));
  });

  it.each(EXAMPLES)("give the same picture, findings and sources for %s", (name) => {
    const told = ({ plan, setup }: Rooms) => {
      const parsed = setup.parseSetup(setup.parseJsonObject(textOf(name), name));
      const forecast = setup.forecast(parsed);
      const wish = { inputs: [], correlations: [], draws: 0, seed: 1 };
      return {
        light: Buffer.from(forecast.light.buffer).toString("base64"),
        findings: plan.check(forecast),
        cautions: plan.cautionsFor(parsed),
        tolerances: parsed.medium.solution === undefined ? plan.toleranceJob(parsed, wish).inputs : [],
      };
    };
    const { light, ...words } = told(page);
    const { light: wholeLight, ...wholeWords } = told(whole);
    expect(light === wholeLight).toBe(true);
    expect(words).toEqual(wholeWords);
  });
});
