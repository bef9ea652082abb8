import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { saturatedDensity } from "../medium/index.ts";
import { Refusal } from "../quantity/index.ts";
import {
  curveStage,
  type Forecast,
  forecast,
  type JsonObject,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  type Setup,
  vapourStage,
} from "../setup/index.ts";
import { cautionsFor } from "./cautions.ts";
import { check, verdict } from "./check.ts";
import type { Finding } from "./finding.ts";
import { gentleTop, layering } from "./gentle-top.ts";

const GRID = { radial: 8, angular: 16, axial: 8 };
const SMALL = ["camera.columns=160", "camera.rows=100", "camera.pixel=19.2 um", "path.defocus=1 um"];

function document(name: string): JsonObject {
  return parseJsonObject(
    readFileSync(join(import.meta.dirname, "../../examples", `${name}.json`), "utf8"),
    name,
  );
}

function setupOf(name: string, ...settings: string[]): Setup {
  return parseSetup(overrideSetup(document(name), settings));
}

function foreseen(name: string, ...settings: string[]): Forecast {
  return forecast(setupOf(name, ...SMALL, ...settings), { grid: GRID, tolerance: 1e-6 });
}

function foreseenVapour(...settings: string[]) {
  return vapourStage(setupOf("blue-twins", ...settings), { grid: GRID, tolerance: 1e-6 });
}

const codes = (findings: readonly Finding[]): string[] => findings.map((finding) => finding.code);

function withCode(findings: readonly Finding[], code: string): Finding {
  const found = findings.find((finding) => finding.code === code);
  if (found === undefined) throw new Error(`${code} is missing among ${codes(findings).join(", ")}`);
  return found;
}

describe("findings about a forecast", () => {
  let twins: Forecast;
  let found: readonly Finding[];
  beforeAll(() => {
    twins = foreseen("blue-twins", "vessel.windowThickness=5 mm", "vessel.tubeMaterial=steel-304");
    found = check(twins);
  });

  it("come in the order of their weight, each with a source, a full stop and finite numbers", () => {
    const weights = found.map((finding) => ["stop", "mind", "fine"].indexOf(finding.level));
    expect(weights).toEqual([...weights].sort((a, b) => a - b));
    for (const finding of found) {
      expect(finding.source.length).toBeGreaterThan(10);
      expect(finding.sentence).toMatch(/^[A-Z|].*\.$/s);
      for (const number of [finding.value, finding.threshold])
        if (number !== undefined) expect(Number.isFinite(number)).toBe(true);
    }
    expect(new Set(codes(found)).size).toBeGreaterThan(8);
  });

  it("every remedy that names fields can be set", () => {
    for (const name of ["blue-twins", "sodium", "strontium"]) {
      for (const finding of check(foreseen(name, "vessel.top=40 degC", "vessel.ends=40 degC"))) {
        for (const [path, value] of Object.entries(finding.remedy?.set ?? {})) {
          expect(() => setupOf(name, `${path}=${value}`), `${finding.code}: ${path}=${value}`).not.toThrow();
        }
      }
    }
  });

  it("fog's remedy removes the fog and keeps the gradient", () => {
    const foggy = foreseen("blue-twins", "vessel.top=40 degC", "vessel.ends=40 degC");
    const finding = withCode(check(foggy), "linear-model-refused");
    expect(finding.value).toBeGreaterThan(20);
    const top = finding.remedy?.set?.["vessel.top"] ?? "";
    const mended = foreseen("blue-twins", `vessel.top=${top}`, "vessel.ends=40 degC");
    expect(codes(check(mended))).not.toContain("linear-model-refused");
    expect(codes(check(mended))).not.toContain("fog-likely");
    // The largest gradient that any top gives, by the solver itself.
    const largest = Math.max(
      ...[80, 110, 130, 150, 170, 190].map(
        (celsius) =>
          -foreseenVapour(`vessel.top=${celsius} degC`, "vessel.ends=40 degC").middle.columnGradient,
      ),
    );
    const share = -mended.vapour.middle.columnGradient / largest;
    expect(share).toBeGreaterThan(0.96);
    expect(share).toBeLessThan(0.98);
    expect(mended.vapour.middle.columnGradient / foggy.vapour.middle.columnGradient).toBeGreaterThan(1);
  });

  it("a heat-pipe asks for gas, and the gas mends it", () => {
    const starved = foreseen("blue-twins", "vessel.gasPressure=0.5 mbar");
    const finding = withCode(check(starved), "heat-pipe");
    expect(finding.level).toBe("stop");
    const set = finding.remedy?.set ?? {};
    const mended = check(
      foreseen("blue-twins", ...Object.entries(set).map(([path, value]) => `${path}=${value}`)),
    );
    expect(codes(mended)).not.toContain("heat-pipe");
  });

  it("convection asks for less gas, and less gas mends it", () => {
    const stirred = foreseen("strontium", "vessel.gasPressure=400 mbar");
    const finding = withCode(check(stirred), "convection-likely");
    const set = finding.remedy?.set ?? {};
    const mended = check(
      foreseen("strontium", ...Object.entries(set).map(([path, value]) => `${path}=${value}`)),
    );
    expect(codes(mended)).not.toContain("convection-likely");
  });

  const cases: [string, string, string[], Finding["level"]][] = [
    ["window-too-thin", "blue-twins", ["vessel.windowThickness=1.5 mm"], "stop"],
    ["window-too-thin", "blue-twins", ["vessel.windowThickness=1.8 mm"], "mind"],
    ["window-stress", "blue-twins", ["vessel.windowThickness=2 mm"], "fine"],
    ["window-not-stated", "blue-twins", ["vessel.windowThickness="], "mind"],
    ["wall-too-hot", "strontium", ["vessel.tubeMaterial=borosilicate"], "stop"],
    ["wall-attacked", "strontium", ["vessel.tubeMaterial=fused-silica"], "stop"],
    ["tube-not-stated", "strontium", ["vessel.tubeMaterial="], "mind"],
    ["overexposed", "blue-twins", ["camera.exposure=1 s"], "mind"],
    ["underexposed", "blue-twins", ["camera.exposure=0.1 ms"], "mind"],
    ["lamp-has-lines", "blue-twins", ["path.source.kind=xenon-arc"], "mind"],
    ["lamp-temperature", "blue-twins", ["path.source.kind=xenon-arc"], "mind"],
    ["pair-close", "sodium", [], "mind"],
    ["lamp-has-bands", "blue-twins", ["path.source.kind=carbon-arc"], "mind"],
    ["infrared-filter", "potassium-grating", [], "mind"],
    ["no-line", "blue-twins", ["path.centreWavelength=500 nm"], "stop"],
    ["too-thin", "strontium", ["vessel.bottom=230 degC", "vessel.top=150 degC"], "mind"],
    ["too-dense", "potassium-grating", ["vessel.bottom=330 degC", "vessel.gasPressure=60 mbar"], "mind"],
    ["dimers-likely", "blue-twins", ["vessel.bottom=300 degC"], "mind"],
    ["top-too-warm", "blue-twins", ["vessel.top=280 degC"], "mind"],
    ["over-pressure", "blue-twins", ["vessel.gasPressure=900 mbar"], "stop"],
    ["charge-not-stated", "strontium", ["vessel.charge="], "fine"],
    ["charge-short", "strontium", ["vessel.charge=0.2 g"], "mind"],
    ["near-heat-pipe", "blue-twins", ["vessel.gasPressure=2.5 mbar"], "mind"],
    ["gap-unresolved", "sodium", ["path.plumbSlit=200 um"], "mind"],
    ["pair-unresolved", "sodium", ["path.plumbSlit=200 um"], "mind"],
    ["curve-low", "sodium", ["path.levelSlit=300 um"], "mind"],
    ["curve-leaves-picture", "strontium", ["camera.rows=20"], "mind"],
  ];
  it.each(cases)("%s is found (%s, %j)", (code, name, settings, level) => {
    const setup = setupOf(name, ...SMALL, ...settings);
    const vapour = vapourStage(setup, { grid: { radial: 8, angular: 16, axial: 8 }, tolerance: 1e-5 });
    const finding = withCode(check({ ...twins, setup, vapour, curve: curveStage(setup, vapour) }), code);
    expect(finding.level).toBe(level);
    expect(finding.source).not.toBe("");
  });
});

describe("every check of the list", () => {
  /** What is asked of every setup, and the findings that answer it. */
  const LIST: Readonly<Record<string, readonly string[]>> = {
    "curve tall enough": ["curve-height", "curve-low", "too-thin", "no-line"],
    "traced rays": ["rays-agree", "rays-differ", "rays-meet-wall"],
    "gap narrow enough": ["gap-width", "gap-unresolved", "too-dense"],
    "light enough, exposure": ["light-enough", "overexposed", "underexposed"],
    "resolution spent where": ["blur-spent"],
    convection: ["no-convection", "convection-likely"],
    "heat-pipe regime": ["gas-holds", "near-heat-pipe", "heat-pipe"],
    "dimer bands": ["no-dimers", "dimers-likely"],
    fogging: ["no-fog", "fog-likely", "linear-model-refused"],
    "charge of metal": ["charge-lasts", "charge-short", "charge-not-stated", "charge-runs-back"],
    "stress of windows": ["window-stress", "window-too-thin", "window-not-stated"],
    "tube wall": ["wall-holds", "wall-near-limit", "wall-too-hot", "tube-not-stated"],
    "cooling water": [
      "no-water-needed",
      "air-may-not-do",
      "cooling-enough",
      "cooling-short",
      "coolant-boils",
      "water-not-stated",
    ],
  };
  const PAIR = ["pair-apart", "pair-close", "pair-unresolved", "gaps-merge"];
  /** A rate or a missing statement has no threshold. */
  const WITHOUT = new Set(["charge-not-stated", "charge-runs-back", "window-not-stated", "tube-not-stated"]);

  it.each(["blue-twins", "sodium", "strontium", "potassium-grating", "heater-sodium"])("%s", (name) => {
    const found = check(foreseen(name));
    const pair = name === "strontium" ? {} : { "pair resolved": PAIR };
    for (const [asked, answers] of Object.entries({ ...LIST, ...pair })) {
      const answer = found.filter((finding) => answers.includes(finding.code));
      expect(answer.length, asked).toBeGreaterThan(0);
      for (const finding of answer) {
        expect(finding.value, finding.code).toBeTypeOf("number");
        if (!WITHOUT.has(finding.code)) expect(finding.threshold, finding.code).toBeTypeOf("number");
        expect(finding.source, finding.code).not.toBe("");
        if (finding.level !== "fine") expect(finding.remedy?.text, finding.code).toBeTypeOf("string");
      }
    }
  });
});

describe("cooling by a loop", () => {
  const loop = (flow: string) => [
    "vessel.heater.topCooling=liquid",
    "vessel.heater.topCoolant=water",
    `vessel.heater.topFlow=${flow}`,
    "vessel.heater.topInlet=20 degC",
    "vessel.heater.topConductance=200 W/(m2.K)",
    "vessel.heater.power=600 W",
  ];

  it("enough flow is enough; the heat is what the water's warming carries", () => {
    const finding = withCode(check(foreseen("heater-sodium", ...loop("10 g/s"))), "cooling-enough");
    const heat = Number(/carries off ([\d.e+]+) W/.exec(finding.sentence)?.[1]);
    expect(heat / (0.01 * 4180 * ((finding.value ?? 0) - 293.15))).toBeCloseTo(1, 1);
    expect(heat).toBeLessThan(600);
  });

  it("too little asks for more, and more mends it", () => {
    const short = withCode(check(foreseen("heater-sodium", ...loop("1.6 g/s"))), "cooling-short");
    expect(short.value).toBeGreaterThan(short.threshold ?? Infinity);
    const flow = short.remedy?.set?.["vessel.heater.topFlow"] ?? "";
    const mended = check(foreseen("heater-sodium", ...loop(flow)));
    expect(codes(mended)).toContain("cooling-enough");
    expect(codes(check(foreseen("heater-sodium", ...loop("0.3 g/s"))))).toContain("coolant-boils");
  });

  it("water without a stated loop is not judged", () => {
    expect(codes(check(foreseen("blue-twins", "vessel.cooling=water")))).toContain("water-not-stated");
  });
});

describe("how cool the top must be", () => {
  const tube = { element: "Cs", gas: "Ar" };

  it.each([180, 220, 260])("layering agrees with the solved bore, top at %d °C", (top) => {
    const setup = setupOf("blue-twins", `vessel.top=${top} degC`, "vessel.gasPressure=400 mbar");
    const { numbers } = vapourStage(setup, { grid: { radial: 24, angular: 32, axial: 16 }, tolerance: 1e-7 });
    const closed = (-layering(tube, setup.vessel.wall.bottom, setup.vessel.wall.top) * 2) / (Math.PI * 0.02);
    expect(Math.abs(numbers.densityGradient / closed - 1)).toBeLessThan(0.02);
  });

  it("without conduction's and diffusion's temperature dependence it is half the difference of the densities", () => {
    // A top 1 K cooler: all powers of T are alike to 0.2 %, and N x-slope dominates.
    const [hot, cool] = [558.15, 557.15];
    const difference = saturatedDensity("Cs", hot) - saturatedDensity("Cs", cool);
    expect(layering(tube, hot, cool) / difference).toBeGreaterThan(0.98);
    expect(layering(tube, hot, cool) / difference).toBeLessThan(1.02);
  });

  it.each([
    ["Cs", 285],
    ["Sr", 610],
    ["Na", 270],
    ["K", 240],
    ["Ba", 700],
  ])(
    "the gentle top of %s at %d °C keeps 97 %% of the largest gradient, 60 to 150 K below",
    (element, celsius) => {
      const metal = { element, gas: "Ar" };
      const bottom = celsius + 273.15;
      const top = gentleTop(metal, bottom);
      const tops = Array.from({ length: 300 }, (_, i) =>
        layering(metal, bottom, 280 + ((bottom - 281) * i) / 300),
      );
      expect(layering(metal, bottom, top) / Math.max(...tops)).toBeCloseTo(0.97, 3);
      expect(bottom - top).toBeGreaterThan(60);
      expect(bottom - top).toBeLessThan(150);
    },
  );
});

describe("verdict", () => {
  it("is one sentence that says height and what decides", () => {
    const text = verdict(
      check(
        foreseen(
          "sodium",
          "path.plumbSlit=200 um",
          "vessel.windowThickness=5 mm",
          "vessel.tubeMaterial=steel-304",
        ),
      ),
    ).text;
    expect(text).toMatch(/^At the gap's edge .*rad high, .* times its own thickness.*;.*\.$/);
    expect(text.match(/\. /g)).toBeNull();
  });

  it("names the gravest finding, with its remedy", () => {
    const said = verdict(check(foreseen("blue-twins", "vessel.windowThickness=1 mm")));
    expect(said.level).toBe("stop");
    expect(said.code).toBe("window-too-thin");
    expect(said.text).toMatch(/take a thicker window\.$/);
  });
});

describe("cautions", () => {
  it("put the gravest first, name the amount at stake, and end with the local rules", () => {
    const said = cautionsFor(setupOf("blue-twins", "vessel.cooling=water"));
    expect(said[0].code).toBe("water-cooling");
    expect(said[0].remedy?.set).toEqual({ "vessel.cooling": "air" });
    // 5 g of caesium: 5/132.905/2 mol of hydrogen, 24.06 l a mole at 20 °C
    expect(withCode(said, "alkali-and-water").value).toBeCloseTo(((5 / 132.905 / 2) * 24.055) / 1000, 5);
    expect(said.at(-1)?.code).toBe("local-rules");
    expect(said.at(-1)?.sentence).toMatch(/never calls a setup safe/);
  });

  it("never say that anything is safe otherwise", () => {
    for (const name of ["blue-twins", "sodium", "strontium", "potassium-grating"]) {
      const all = [...cautionsFor(setupOf(name)), ...check(foreseen(name))];
      for (const finding of all.filter((each) => each.code !== "local-rules"))
        expect(finding.sentence).not.toMatch(/\bsafe(?:ly)?\b/i);
    }
  });

  it("know barium, nitrogen, arcs and large charges", () => {
    expect(codes(cautionsFor(setupOf("strontium", "medium.element=Ba", "vessel.bottom=700 degC")))).toContain(
      "barium",
    );
    expect(codes(cautionsFor(setupOf("strontium", "vessel.gas=N2")))[0]).toBe("nitride");
    expect(codes(cautionsFor(setupOf("strontium", "path.source.kind=xenon-arc")))).toContain("arc-light");
    expect(codes(cautionsFor(setupOf("strontium", "vessel.charge=20 g")))).toContain("large-charge");
    expect(codes(cautionsFor(setupOf("sodium")))).not.toContain("superoxide");
    expect(codes(cautionsFor(setupOf("potassium-grating")))).toContain("superoxide");
    const magnesium = cautionsFor(
      setupOf("strontium", "medium.element=Mg", "vessel.bottom=400 degC", "vessel.top=300 degC"),
    );
    expect(withCode(magnesium, "metal-and-water").value).toBeCloseTo(((3 / 24.305) * 24.055) / 1000, 4);
  });

  it.each(["Hg", "Cd", "Tl"])("a tube of %s is refused with the reason", (element) => {
    expect(() => setupOf("sodium", `medium.element=${element}`)).toThrow(Refusal);
    expect(() => setupOf("sodium", `medium.element=${element}`)).toThrow(/poison/);
  });
});
