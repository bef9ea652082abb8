// @vitest-environment node
import { describe, expect, it } from "vitest";
import { FIELDS } from "../../setup/fields.ts";
import { ELEMENT_WORDS, elementOf } from "./elements.ts";
import { bend, percent, significant, spoken } from "./number.ts";
import { parts } from "./text.tsx";

const plain = (text: string): string => text.replaceAll("\u202f", " ");

describe("numbers in words", () => {
  it("writes a fixed count of digits, with powers of ten where they read better", () => {
    expect([1.3e22, -3.7e-6, 0.12345, 15.72, 99999, -0.5].map((value) => plain(significant(value)))).toEqual([
      "1.30 × 10^22",
      "\u22123.70 × 10^\u22126",
      "0.123",
      "15.7",
      "99999",
      "\u22120.500",
    ]);
  });

  it("says which way light bends and how much is left", () => {
    expect([3.9e-4, -4.81e-4, 0, 1.23e-2].map((value) => plain(bend(value)))).toEqual([
      "0.39 mrad up",
      "0.48 mrad down",
      "0.00 mrad up",
      "12.3 mrad up",
    ]);
    expect([1, 0.963, 0.0123, 0].map((value) => plain(percent(value)))).toEqual([
      "100 %",
      "96 %",
      "1.2 %",
      "0 %",
    ]);
  });

  it("speaks powers and minus signs", () => {
    expect(spoken("n \u2212 1 = \u22123.7\u202f×\u202f10^\u22126")).toBe(
      "n minus 1 = minus 3.7 times 10 to the minus 6",
    );
  });
});

describe("raised digits", () => {
  it("finds powers written either way", () => {
    expect(parts("1.3×10²² m⁻³")).toEqual([
      { text: "1.3×10", raised: false },
      { text: "22", raised: true },
      { text: " m", raised: false },
      { text: "\u22123", raised: true },
    ]);
    expect(parts("plain")).toEqual([{ text: "plain", raised: false }]);
  });
});

describe("fields on the bench", () => {
  it("shows every field of the setup at exactly one element, title and notes and strengths by hand apart", () => {
    const shown = Object.values(ELEMENT_WORDS).flatMap((words) => [...words.fields, ...(words.finer ?? [])]);
    expect(new Set(shown).size).toBe(shown.length);
    const elsewhere = ["title", "notes", "medium.strengths"];
    const missing = FIELDS.map((field) => field.path).filter(
      (path) => !shown.includes(path) && !elsewhere.includes(path),
    );
    expect(missing).toEqual([]);
    const unknown = shown.filter((path) => !FIELDS.some((field) => field.path === path));
    expect(unknown).toEqual([]);
    expect(elementOf("camera.gamma")).toBe("camera");
    expect(elementOf("no.such.field")).toBeUndefined();
  });
});
