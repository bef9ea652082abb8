import { describe, expect, it } from "vitest";
import { TROUBLES } from "../../bench/campaign/reading/cases.ts";
import { ownCase } from "../../bench/campaign/reading/own.ts";
import { readPicture } from "./index.ts";

// A seeded sample of the campaign bench/campaign/reading-errors.ts; docs/reading-campaign.md tells of the whole.
describe("difficult pictures", () => {
  it("one of each trouble: a reading called good is within three of its combined uncertainties and 3 %", async () => {
    let good = 0;
    for (let number = 0; number < TROUBLES.length; number++) {
      // Coded by ffmpeg, which need not be installed here.
      if (TROUBLES[number] === "coded film") continue;
      const { hot, cold, lamp, lampLines, setup, truth, trouble } = await ownCase(5, number);
      const reading = readPicture({
        hot,
        ...(cold ? { cold } : {}),
        ...(lamp && lampLines ? { lamp, lampLines } : {}),
        setup,
      });
      if (reading.verdict.code !== "good") continue;
      good++;
      for (const [answer, wanted] of [
        [reading.columnGradient, truth.gradient],
        [reading.columnDensity, truth.density],
      ] as const) {
        const off = Math.abs(answer.value - wanted);
        expect(off / answer.combinedUncertainty, `${number}, ${trouble}`).toBeLessThan(3);
        expect(off / Math.abs(wanted), `${number}, ${trouble}`).toBeLessThan(0.03);
      }
    }
    expect(good).toBeGreaterThanOrEqual(6);
  }, 240_000);
});
