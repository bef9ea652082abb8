/**
 * The cautions read against published safety sheets (data/safety-sheets.json: each with its name, where it was seen, what
 * it names for a fire of the metal and what it forbids). Every metal that may be heated, every sheet that speaks of it.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { cautionsFor, type Finding } from "../../src/plan/index.ts";
import { HEATABLE, overrideSetup, parseJsonObject, parseSetup, type Setup } from "../../src/setup/index.ts";

const read = (path: string): string => readFileSync(join(import.meta.dirname, "../..", path), "utf8");
const { sheets } = JSON.parse(read("data/safety-sheets.json")) as {
  sheets: readonly {
    readonly id: string;
    readonly name: string;
    readonly seen_in: string;
    readonly metals: readonly string[];
    readonly quench: readonly string[];
    readonly never: readonly string[];
    readonly says: string;
  }[];
};

function setupOf(...settings: string[]): Setup {
  const all = ["vessel.bottom=300 degC", "vessel.top=250 degC", "vessel.ends=40 degC", ...settings];
  return parseSetup(overrideSetup(parseJsonObject(read("examples/strontium.json"), "strontium.json"), all));
}

const caution = (setup: Setup, code: string): Finding => {
  const found = cautionsFor(setup).find((each) => each.code === code);
  if (found === undefined) throw new Error(`no caution ${code}`);
  return found;
};

/** Words of a sheet as the cautions write them. */
const WORDS: Readonly<Record<string, RegExp>> = {
  water: /\bwater\b/,
  "carbon dioxide": /carbon dioxide/,
  halon: /halon/,
  foam: /foam/,
  "graphite powder": /graphite/,
  "sodium chloride powder": /sodium (?:chloride|salts)/,
  "sodium carbonate powder": /sodium carbonate|soda ash|sodium salts/,
};

describe("fires of metals", () => {
  for (const element of HEATABLE) {
    it(element, () => {
      const { sentence, source } = caution(setupOf(`medium.element=${element}`), "metal-fire");
      const [keep, never] = sentence.split(/on burning \w+ never/);
      const speaking = sheets.filter((sheet) => sheet.metals.includes(element));
      expect(speaking.length).toBeGreaterThan(0);
      for (const { name, never: forbidden } of speaking) {
        for (const agent of forbidden) {
          if (WORDS[agent] === undefined) continue; // "any other agent"
          expect(never, `${name} forbids ${agent}`).toMatch(WORDS[agent]);
          expect(keep, `${name} forbids ${agent}`).not.toMatch(WORDS[agent]);
        }
      }
      // What is to be kept is named by a sheet whose name stands in the source.
      const named = speaking.filter((sheet) => source.includes(sheet.name));
      expect(named.length, source).toBeGreaterThan(0);
      const quench = named.flatMap((sheet) => sheet.quench).join(", ");
      expect(quench).toMatch(/class D|special powder|sodium chloride|graphite/);
    });
  }
});

describe("sources of cautions", () => {
  it("name a stored sheet, or say that there is none", () => {
    const setups = [
      ...HEATABLE.map((element) => setupOf(`medium.element=${element}`)),
      setupOf("path.source.kind=xenon-arc"),
      setupOf("path.source.kind=carbon-arc"),
      setupOf("vessel.gas=N2"),
      setupOf("vessel.cooling=water"),
    ];
    for (const setup of setups) {
      for (const { code, source } of cautionsFor(setup)) {
        const known = sheets.some(({ name }) => source.includes(name));
        expect(known || /common practice|ICNIRP|NIOSH/.test(source), `${code}: ${source}`).toBe(true);
      }
    }
  });

  it("every sheet tells where it was seen and what it says, once", () => {
    expect(new Set(sheets.map(({ id }) => id)).size).toBe(sheets.length);
    for (const sheet of sheets) {
      expect(sheet.seen_in.length, sheet.id).toBeGreaterThan(4);
      expect(sheet.says.length, sheet.id).toBeGreaterThan(20);
    }
  });

  it("limits that are quoted stand in the sheets", () => {
    const says = (id: string): string => sheets.find((sheet) => sheet.id === id)?.says ?? "";
    expect(caution(setupOf("medium.element=Ba"), "barium").sentence).toMatch(/0\.5 mg/);
    expect(says("niosh-ba")).toMatch(/0\.5 mg/);
    expect(caution(setupOf("medium.element=Zn"), "zinc-fume").sentence).toMatch(/5 mg/);
    expect(says("nj-2037")).toMatch(/5 mg/);
    expect(caution(setupOf(), "flame").sentence).toMatch(/35 ppm/);
    expect(says("niosh-co")).toMatch(/35 ppm/);
  });

  it("sheets stand behind the refusal of mercury, cadmium and thallium", () => {
    for (const element of ["Hg", "Cd", "Tl"])
      expect(sheets.filter(({ metals }) => metals.includes(element)).length, element).toBe(1);
  });
});
