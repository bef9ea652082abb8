import { expect, it } from "vitest";
import { canDrawOutside, outsideCases } from "../../bench/campaign/reading/outside.ts";
import { readPicture } from "./index.ts";

// Drawn anew by another program, which needs Python with numpy and scipy.
it.skipIf(!canDrawOutside())(
  "a bow that the vessel believes and the picture has not: the ridge between is crossed",
  async () => {
    // Drawn by the independent renderer: a gradient that changes straight across the beam. The vessel of its setup bends it by an eighth.
    for await (const { truth, ...seen } of outsideCases(1, [192])) {
      const { columnGradient, parameters } = readPicture(seen);
      const bow = parameters.find(({ name }) => name === "gradient bow");
      expect(Math.abs(bow?.value ?? Number.NaN)).toBeLessThan(0.03);
      expect(Math.abs(columnGradient.value / truth.gradient - 1)).toBeLessThan(0.005);
      return;
    }
    expect.fail("no picture was drawn");
  },
);
