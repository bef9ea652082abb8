/** A hot picture alone, as someone takes it who has heard of neither cold nor lamp frames. */
import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { curveStage, pictureStage, vapourStage } from "../setup/index.ts";
import { readPicture } from "./index.ts";

const bench = benchSetup();

describe("a hot picture without cold and lamp frames", () => {
  it.each([0, 0.01])(
    "tells gradient, density and tilt, its camera rolled by %s rad",
    (cameraRoll) => {
      const setup = { ...bench, path: { ...bench.path, cameraRoll, levelSlitTilt: 0 } };
      const curve = curveStage(setup, vapourStage(setup));
      const { middle } = vapourStage(setup);
      const reading = readPicture({ hot: pictureStage(setup, curve).frame, setup });
      // The practice pictures' limits; with the bent tails taken for the slope of the line density came out a tenth too high.
      expect(Math.abs(reading.columnGradient.value / middle.columnGradient - 1)).toBeLessThan(0.005);
      expect(Math.abs(reading.columnDensity.value / middle.columnDensity - 1)).toBeLessThan(0.03);
      expect(Math.abs(reading.tilt.value - cameraRoll)).toBeLessThan(4 * reading.tilt.combinedUncertainty);
      expect(reading.tilt.combinedUncertainty).toBeLessThan(1e-4);
      expect(reading.assumptions.join()).toMatch(/at right angles \(neither cold nor lamp frame\)/);
      const { measured, expected, pass } = reading.zeroBetweenLines!;
      expect(pass).toBe(true);
      expect(Math.abs(measured.value - expected)).toBeLessThan(3.5 * measured.combinedUncertainty);
    },
    60_000,
  );

  it("measures the distance of its lines by the setup's disperser, not by the pair itself", () => {
    const curve = curveStage(bench, vapourStage(bench));
    const { frame: hot } = pictureStage(bench, curve);
    const [right, wrong] = [1, 1.01].map((times) => {
      // A camera lens said to be 1 % longer makes a pixel 1 % fewer picometres.
      const path = { ...bench.path, cameraFocalLength: times * bench.path.cameraFocalLength };
      return readPicture({ hot, setup: { ...bench, path }, options: { rough: true } });
    });
    expect(wrong.lineSeparation!.value / right.lineSeparation!.value).toBeCloseTo(1 / 1.01, 3);
    const [a, b] = right.lineColumns.map(({ wavelength }) => wavelength);
    expect(right.lineSeparation!.value / (b - a)).toBeCloseTo(1, 3);
  }, 60_000);
});
