import { describe, expect, it } from "vitest";
import { backgroundOf } from "./background.ts";
import { findBand } from "./band-search.ts";
import { bandOr } from "./first-look.ts";
import { lightOf } from "./frame-light.ts";

const [COLUMNS, ROWS] = [1408, 968];
const LINE = { row: 470, slope: 0.012 };

/** A curve of two lines without a cold frame, bent nearly everywhere: height of each branch ∝ 1/(column − line's). */
function bentAllOver(): ReturnType<typeof lightOf> {
  const samples = new Uint16Array(COLUMNS * ROWS).fill(1300);
  for (let c = 0; c < COLUMNS; c++) {
    const bent = 8000 / (c - 570.5) + 4000 / (c - 832.5);
    const row = LINE.row + LINE.slope * (c - COLUMNS / 2) + bent;
    for (let r = Math.max(0, Math.ceil(row - 30)); r < Math.min(ROWS, row + 30); r++)
      samples[r * COLUMNS + c] += 40_000 * Math.exp(-0.5 * ((r + 0.5 - row) / 7) ** 2);
  }
  for (let i = 0; i < samples.length; i++) samples[i] += (i * 7919) % 101;
  return lightOf({ columns: COLUMNS, rows: ROWS, channels: 1, depth: 16, samples }, 1, "hot");
}

describe("the line of a large picture that is bent nearly everywhere", () => {
  const frame = bentAllOver();
  const background = backgroundOf(frame);

  it("is found among blocks that agree roughly, where too few agree closely", () => {
    const close = findBand(frame, background);
    expect(close?.share ?? 0).toBeLessThan(0.3);
    const band = bandOr(frame, background, "hot", 0.3);
    expect(Math.abs(band.row - LINE.row)).toBeLessThan(20);
    // A straight line through the bends: 0.03 off in sodium 1/79 of docs/reading-campaign.md, from where the fit finds its way.
    expect(Math.abs(band.slope - LINE.slope)).toBeLessThan(0.05);
  });

  it("is still refused where blocks agree on nothing", () => {
    const scattered = { ...frame, light: frame.light.map((_, i) => ((i * 7919) % 101) / 1e5) };
    for (let c = 0; c < COLUMNS; c++) {
      const row = 60 + ((Math.floor(c / 16) * 397) % 840);
      for (let r = row; r < row + 20; r++) scattered.light[r * COLUMNS + c] = 0.5;
    }
    expect(() => bandOr(scattered, backgroundOf(scattered), "hot", 0.3)).toThrow(/bright, nearly level line/);
  });
});
