import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Frame } from "../picture/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import { parseJsonObject, parseSetup } from "../setup/index.ts";
import { lampLinesFromNames, readPicture } from "./index.ts";

const setup = parseSetup(
  parseJsonObject(
    readFileSync(new URL("../../examples/practice/k-clean.json", import.meta.url), "utf8"),
    "k-clean",
  ),
);

function painted(columns: number, rows: number, at: (c: number, r: number) => number): Frame {
  const samples = new Uint16Array(columns * rows);
  for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) samples[r * columns + c] = at(c, r);
  return { columns, rows, channels: 1, depth: 16, samples };
}

/** A noise without a generator's state: the fractional part of a large sine. */
const grain = (c: number, r: number): number =>
  300 *
  (Math.sin(c * 12.9898 + r * 78.233) * 43758.5453 -
    Math.floor(Math.sin(c * 12.9898 + r * 78.233) * 43758.5453));
const line = (c: number, r: number): number => (Math.abs(r - 100) < 5 ? 40000 : 600) + grain(c, r);

function refusal(run: () => unknown): Refusal {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("pictures that are not of this kind", () => {
  const cases: [string, Frame, string][] = [
    ["black", painted(300, 200, () => 0), "no-line"],
    ["white", painted(300, 200, () => 65535), "no-line"],
    ["grey noise", painted(300, 200, (c, r) => 20000 + grain(c, r)), "no-line"],
    [
      "a face-like blob",
      painted(300, 200, (c, r) => 50000 * Math.exp(-((c - 150) ** 2 + (r - 100) ** 2) / 900)),
      "no-gap",
    ],
    ["a cold tube", painted(300, 200, line), "no-gap"],
    ["three pixels", painted(3, 1, () => 0), "frame-too-small"],
    ["truncated", { ...painted(300, 200, line), samples: new Uint16Array(100) }, "frame-truncated"],
    [
      "400 million pixels",
      { columns: 20000, rows: 20000, channels: 1, depth: 16, samples: new Uint16Array(0) },
      "frame-too-large",
    ],
  ];
  it.each(cases)("%s gets one sentence", (_name, hot, code) => {
    const found = refusal(() => readPicture({ hot, setup }));
    expect(found.record.code).toBe(code);
    expect(found.record.field).toBe("hot");
    expect(found.message).toMatch(/^hot: expected .+, received .+\.$/);
  });

  it("a cold frame of another size is named", () => {
    const found = refusal(() =>
      readPicture({ hot: painted(300, 200, line), cold: painted(200, 200, line), setup }),
    );
    expect(found.record).toMatchObject({ code: "frame-size", field: "cold" });
  });

  it("a lamp frame without lines is named", () => {
    const found = refusal(() =>
      readPicture({
        hot: painted(300, 200, line),
        lamp: painted(300, 200, (c, r) => 600 + grain(c, r)),
        lampLines: [7e-7],
        setup,
      }),
    );
    expect(found.record).toMatchObject({ code: "no-lamp-lines", field: "lamp" });
  });
});

describe("lampLinesFromNames", () => {
  it("takes elements, air and vacuum", () => {
    const lines = lampLinesFromNames("Ar, 763.7208 nm vacuum, 435.8335 nm air");
    expect(lines).toContain(763.7208e-9);
    // NIST: Hg I 435.8335 nm in air is 435.9560 nm in vacuum (refractive index of standard air, Edlén).
    expect(lines.some((w) => Math.abs(w - 435.956e-9) < 1e-12)).toBe(true);
    // Ar I 763.5106 nm in air is 763.7208 nm in vacuum: the element's own line agrees with the one given.
    expect(lines.filter((w) => Math.abs(w - 763.7208e-9) < 2e-13).length).toBeGreaterThanOrEqual(1);
    expect([...lines].sort((a, b) => a - b)).toEqual(lines);
  });

  it.each([
    ["589.3 nm", "lamp-line-unclear"],
    ["Qq", "unknown-lamp"],
    ["", "no-lamp-lines-named"],
  ])("refuses %j", (text, code) => {
    expect(refusal(() => lampLinesFromNames(text)).record.code).toBe(code);
  });
});
