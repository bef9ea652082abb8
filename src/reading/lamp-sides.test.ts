/** A single line bends alike from both sides: the lamp alone tells which way round the colours run. */
import { describe, expect, it } from "vitest";
import { canDrawOutside, outsideCases } from "../../bench/campaign/reading/outside.ts";
import type { LampFrame } from "./lamp-frame.ts";
import { lampCannotTell, lampSaysMirrored, lampSides } from "./lamp-sides.ts";
import { readPicture } from "./index.ts";
import type { ScalePrior } from "./wavelength-scale.ts";

const DISPERSION = 2.5e-11;
const LINE = { wavelength: 553.7e-9, at: 4 };

/** Sharp lines at these places, pixels from the middle. */
function lampAt(places: readonly number[]): LampFrame {
  const columns = 320;
  const along = Float64Array.from({ length: 8 * columns }, (_, i) => i / 8 - columns / 2);
  const light = along.map((u) => places.reduce((sum, p) => sum + Math.exp(-0.5 * ((u - p) / 1.2) ** 2), 0));
  return {
    geometry: { columns, rows: 200, roll: 0, smile: 0 },
    rollUncertainty: 1e-5,
    smileUncertainty: 1e-8,
    peaks: places.map((p) => ({ along: p, sigma: 0.005, height: 1, atEdge: false })),
    lineWidth: 1,
    lineSigma: 1.2,
    spectrum: { along, light, sigma: along.map(() => 0.01) },
  };
}

/** What the setup expects, with the vapour's line where the picture has it. */
function prior(at: number): ScalePrior {
  return {
    wavelength: (u) => LINE.wavelength + DISPERSION * (u - at),
    dispersion: DISPERSION,
    shift: 96,
    stretch: 0.25,
  };
}

function sidesOf(places: readonly number[], wavelengths: readonly number[]) {
  return lampSides(lampAt(places), wavelengths, prior(LINE.at), prior(-LINE.at), LINE);
}

/** Published wavelengths of lines that stand at these places on a scale stretched and shifted a little. */
const seenAt = (places: readonly number[]): number[] =>
  places.map((u) => LINE.wavelength + 1.02 * DISPERSION * (u - LINE.at));

describe("the lamp beside a single line", () => {
  const places = [-110, -47, 52, 88];

  it("as stored: said so, and not mirrored", () => {
    const sides = sidesOf(places, seenAt(places));
    expect(lampSaysMirrored(sides)).toBe(false);
    expect(lampCannotTell(sides)).toBe(false);
  });

  it("mirrored: said so", () => {
    const wavelengths = seenAt(places).map((w) => 2 * LINE.wavelength - w);
    expect(lampSaysMirrored(sidesOf(places, wavelengths))).toBe(true);
  });

  it("lines that stand alike on both sides of the vapour's own cannot tell", () => {
    const even = [-96, 104];
    expect(lampCannotTell(sidesOf(even, seenAt(even)))).toBe(true);
  });

  it("lines of another lamp are infinitely unlikely either way", () => {
    const sides = sidesOf(places, [400e-9, 401e-9]);
    expect(sides).toEqual({ stored: Number.POSITIVE_INFINITY, mirrored: Number.POSITIVE_INFINITY });
    expect(lampCannotTell(sides)).toBe(true);
  });

  // Seed and number of drawn pictures with one line, a lamp and mirrored columns; drawn by a renderer that shares no code with this and needs Python with numpy and scipy.
  it.skipIf(!canDrawOutside())(
    "drawn mirrored by another program: the gradient has its true sign",
    async () => {
      let single = 0;
      for await (const { hot, cold, lamp, lampLines, setup, truth, number } of outsideCases(
        1,
        [6, 18, 30, 42],
      )) {
        if (truth.separation !== null) continue;
        single++;
        const reading = readPicture({ hot, cold: cold!, lamp: lamp!, lampLines: lampLines!, setup });
        expect(reading.orientation, `picture ${number}`).toBe("mirrored");
        expect(Math.abs(reading.columnGradient.value / truth.gradient - 1), `picture ${number}`).toBeLessThan(
          0.02,
        );
      }
      expect(single).toBeGreaterThan(0);
    },
  );
});
