import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { decodePng } from "../picture/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { type RunSheet, runSheet } from "./run-sheet.ts";
import { runSheetHtml } from "./run-sheet-html.ts";
import { runSheetText } from "./run-sheet-text.ts";

let sheet: RunSheet;

beforeAll(() => {
  const text = readFileSync(join(import.meta.dirname, "../../examples/blue-twins.json"), "utf8");
  const settings = [
    "camera.columns=320",
    "camera.rows=200",
    "camera.pixel=9.6 um",
    'title=Twins & "more" <b>',
  ];
  const setup = parseSetup(overrideSetup(parseJsonObject(text, "blue-twins.json"), settings));
  sheet = runSheet(forecast(setup, { grid: { radial: 12, angular: 16, axial: 16 }, tolerance: 1e-5 }));
});

describe("run sheet", () => {
  it("puts cautions first, then the approval, then everything else", () => {
    for (const text of [runSheetText(sheet), runSheetHtml(sheet)]) {
      const order = [
        /cautions/i,
        /water free hydrogen/,
        /local approval/i,
        /what is foreseen/i,
        /interlocks/i,
        /stop at once/i,
        /align, in/i,
        /heat/i,
        /cool down/i,
      ].map((part) => {
        const at = text.search(part);
        expect(at, String(part)).toBeGreaterThan(-1);
        return at;
      });
      expect(order.slice(0, 7)).toEqual([...order.slice(0, 7)].sort((a, b) => a - b));
      expect(text).toMatch(/never calls a setup safe/);
      expect(text.replace(/never calls a setup safe/g, "")).not.toMatch(/\bsafe\b/i);
    }
  });

  it("comes with an unticked box of approval that is not remembered", () => {
    const html = runSheetHtml(sheet);
    expect(html).toMatch(/<input type="checkbox" id="approved" autocomplete="off"/);
    expect(html.match(/<input [^>]*\bchecked/)).toBeNull();
    expect(html).toMatch(/Not approved: nothing below may be done/);
  });

  it("heats no faster than 5 K a minute, to the set temperature, with the melting point on the way", () => {
    const rows = sheet.heating;
    const { time, bottom } = sheet.heat.warm;
    for (let i = 1; i < time.length; i++)
      expect((bottom[i] - bottom[i - 1]) / (time[i] - time[i - 1])).toBeLessThanOrEqual(5 / 60);
    for (let i = 1; i < rows.length; i++) expect(rows[i].time).toBeGreaterThan(rows[i - 1].time);
    const last = rows[rows.length - 1];
    expect(last.bottom).toBeCloseTo(558.15, 9);
    expect(last.top).toBeCloseTo(428.15, 6);
    expect(rows.some((row) => /melts/.test(row.mark) && Math.abs(row.bottom - 301.7) < 1)).toBe(true); // caesium, 28.5 °C
  });

  it("shows pictures in which the curve grows with the heat", () => {
    const heights = sheet.heating.flatMap((row) => {
      if (row.picture === undefined) return [];
      const { samples, columns, rows } = decodePng(row.picture.png);
      let top = rows;
      for (let p = 0; p < samples.length; p++)
        if (samples[p] < 200) top = Math.min(top, Math.floor(p / columns));
      return [rows / 2 - top];
    });
    expect(heights.length).toBe(4);
    for (let i = 1; i < heights.length; i++) expect(heights[i]).toBeGreaterThanOrEqual(heights[i - 1]);
    expect(heights[3]).toBeGreaterThan(heights[0] + 5);
  });

  it("is one page that needs nothing else, with harmless text and named pictures", () => {
    const html = runSheetHtml(sheet);
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/<script|https?:|<link|src="(?!data:image\/png;base64,)/);
    expect(html).toMatch(/Twins &amp; &quot;more&quot; &lt;b&gt;/);
    expect(html).not.toMatch(/<b>/);
    for (const image of html.match(/<img [^>]*>/g) ?? []) expect(image).toMatch(/alt="[^"]{10,}"/);
    // Every tag that opens closes.
    for (const tag of ["div", "ul", "table", "tr", "td", "label", "span", "figure", "p", "h2"]) {
      expect(html.match(new RegExp(`<${tag}[ >]`, "g"))?.length, tag).toBe(
        html.match(new RegExp(`</${tag}>`, "g"))?.length,
      );
    }
  });

  it("stops above the plan, and under the tube's own limit", () => {
    expect(sheet.stopNow[0]).toMatch(/305 °C \(20 K over the plan\)/);
  });
});

describe("a cell and a flame", () => {
  it.each([
    ["cell-sodium", /sealed cell with Na/, /\btube\b|relief valve free|pump/i],
    ["flame-sodium", /shut the gas tap/, /\btube\b|leave the gas in|vent,/],
  ] as const)("are told of as what they are: %s", (name, has, hasNot) => {
    const path = new URL(`../../examples/${name}.json`, import.meta.url);
    const sheet = runSheet(forecast(parseSetup(parseJsonObject(readFileSync(path, "utf8"), name))));
    const { gather, interlocks, stopNow: stop, photographs, coolDown, clearingUp, cautions } = sheet;
    const words = [...gather, ...interlocks, ...stop, ...photographs, ...coolDown, ...clearingUp];
    const all = [...words, ...cautions.map(({ sentence }) => sentence)].join("\n");
    expect(all).toMatch(has);
    expect(all).not.toMatch(hasNot);
    expect(cautions.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["local-rules", "burns", "flame"]),
    );
  });
});
