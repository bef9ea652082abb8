import { readFileSync } from "node:fs";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { cautionsFor } from "../plan/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { PULSE_SENTENCES, SENTENCES } from "./en.ts";
import { numbersFor, reteller } from "./index.ts";
import { leftOver, pseudo } from "./testing/pseudo.ts";

const german = numbersFor("de-DE");
const strange = reteller(SENTENCES, pseudo(SENTENCES), german);
const english = reteller(SENTENCES, SENTENCES, numbersFor("en-GB"));
const room = (path: string): string => readFileSync(new URL(`../${path}`, import.meta.url), "utf8");

/**
 * Sentences written in a file of a core room: strings of three words and more that are handed on to people, with 7 for what
 * is put in. Sources, remedies and refusals are no part of a report.
 */
function spoken(path: string): readonly string[] {
  const file = ts.createSourceFile(path, room(path), ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const keep = (text: string): void => {
    if (text.trim().split(" ").length >= 3 && /[a-z]{3}/.test(text)) found.push(text);
  };
  const walk = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isThrowStatement(node) || ts.isLiteralTypeNode(node)) return;
    if (ts.isCallExpression(node) && ["refuse", "ask"].includes(node.expression.getText())) return;
    if (ts.isNewExpression(node) && node.expression.getText() !== "Set") return;
    if (ts.isPropertyAssignment(node) && ["remedy", "code"].includes(node.name.getText())) return;
    if (ts.isPropertyAssignment(node) && node.name.getText() === "source" && !path.includes("conditions"))
      return;
    if (ts.isStringLiteralLike(node)) keep(node.text);
    if (ts.isTemplateExpression(node))
      keep(node.head.text + node.templateSpans.map(({ literal }) => `7${literal.text}`).join(""));
    ts.forEachChild(node, walk);
  };
  walk(file);
  return found;
}

/** As a reading's verdict goes into a report: with its code before it. */
const VERDICT = /^(?:The fit did|A parameter ran|The model )/;

describe("sentences of the rooms below", () => {
  it.each([
    ["reading/warnings.ts", 16],
    ["reading/answers.ts", 9],
    ["reading/verdict.ts", 10],
    ["reading/budget.ts", 10],
    ["reading/conditions.ts", 2],
    ["reading/orientation.ts", 1],
    ["plan/safety-sheets.ts", 5],
    ["plan/solution-cautions.ts", 4],
    ["path/bench-elements.ts", 1],
  ])("are all in the language file: %s", (path, least) => {
    const sentences = spoken(path);
    expect(sentences.length).toBeGreaterThanOrEqual(least);
    const told = sentences.map((each) => {
      const forms = VERDICT.test(each) ? ["good", "fair", "poor"].map((code) => `${code}: ${each}`) : [each];
      return forms.some((form) => strange(form) !== undefined) ? "told" : each;
    });
    expect(told.filter((each) => each !== "told")).toEqual([]);
  });

  it("that cautions put together are told for every metal, vessel, lamp and filling", () => {
    const named = (name: string) => parseJsonObject(room(`../examples/${name}.json`), name);
    const tube = named("sodium");
    const metals = ["Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba", "Zn"];
    const setups = [
      ...["cell-sodium", "flame-sodium", "dye-prism"].map((name) => named(name)),
      ...["xenon-arc", "carbon-arc", "halogen"].map((kind) =>
        overrideSetup(tube, [`path.source.kind=${kind}`]),
      ),
      ...["0.5 g", "4 g", "40 g"].map((charge) =>
        overrideSetup(tube, [`vessel.charge=${charge}`, "vessel.cooling=water"]),
      ),
    ];
    const sentences = new Set<string>();
    for (const setup of setups)
      for (const { sentence } of cautionsFor(parseSetup(setup))) sentences.add(sentence);
    const parsed = parseSetup(setups[4]);
    for (const element of metals)
      for (const gas of ["N2", "Ar"]) {
        const medium = { ...parsed.medium, element };
        const setup = { ...parsed, medium, vessel: { ...parsed.vessel, gas, charge: 0.008 } };
        const cooled = { ...setup, construction: { ...parsed.construction, cooling: "water" } };
        for (const each of [setup, cooled])
          for (const { sentence } of cautionsFor(each)) sentences.add(sentence);
      }
    expect(sentences.size).toBeGreaterThan(80);
    const told = [...sentences].map((each) => strange(each) ?? `left: ${each}`);
    const symbols = [...metals, "ppm"];
    expect(leftOver(told, symbols)).toEqual([]);
    // In English they stay what they were.
    for (const each of sentences) expect(english(each)).toBe(each);
  });

  it("write their numbers as the country does, and keep every number", () => {
    const told = reteller(SENTENCES, SENTENCES, german);
    expect(told("focal length 0.25 mm and pixel 3.45 µm: set the scale of angles")).toBe(
      "focal length 0,25 mm and pixel 3,45 µm: set the scale of angles",
    );
    expect(
      told(
        "vapour over 1.5e+4 mm (the setup's wall temperatures): sets the density that goes into self-broadening",
      ),
    ).toBe(
      "vapour over 1,5\u202f×\u202f10^4 mm (the setup's wall temperatures): sets the density that goes into self-broadening",
    );
  });

  it("write a pressure with its prefix, not with a row of noughts", () => {
    const told = reteller(SENTENCES, SENTENCES, german);
    const state = (pressure: string) =>
      `gas at 543 K and ${pressure} from the same: sets the Doppler width and the gas broadening`;
    expect(told(state(formatQuantity(4.411e-6, "Pa")))).toBe(state("4,411\u202fµPa"));
    expect(told(state(formatQuantity(101_325, "Pa")))).toBe(state("101,3\u202fkPa"));
    expect(told(state("some pressure"))).toBe(undefined);
  });

  it("are not told by halves: an unknown part leaves the whole sentence alone", () => {
    expect(strange("vapour over 300 mm (a guess): sets the density that goes into self-broadening")).toBe(
      undefined,
    );
    expect(strange("A sentence that no room speaks.")).toBe(undefined);
    expect(reteller({ a: "{0} and {0}" }, { a: "{0} twice" }, german)("7 and 7")).toBe("7 twice");
    expect(reteller({ a: "{0} and {0}" }, { a: "{0} twice" }, german)("7 and 8")).toBe(undefined);
  });

  it("of a pulse are in the language file too", () => {
    const told = reteller(PULSE_SENTENCES, pseudo(PULSE_SENTENCES), german);
    const sentences = spoken("medium/pulse.ts");
    expect(sentences).toHaveLength(5);
    expect(sentences.map(told)).not.toContain(undefined);
    expect(
      told("No light comes before the front at c: the share of energy computed there is 3e-8."),
    ).toContain("3\u202f×\u202f10^\u22128");
  });
});
