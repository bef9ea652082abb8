import { describe, expect, it } from "vitest";
import type { PathInput } from "./api.ts";
import { benchElements } from "./bench-elements.ts";
import { USUAL_RAIL } from "./usual-rail.ts";

const path = {
  rail: USUAL_RAIL,
  levelSlit: 50e-6,
  plumbSlit: 20e-6,
  collimatorFocalLength: 0.3,
  focalLength: 0.5,
  secondCollimatorFocalLength: 0.2,
  cameraFocalLength: 0.4,
  disperser: { kind: "grating", groovesPerMetre: 6e5, order: 1 },
  beamHeight: 1e-3,
  beamSize: 8e-3,
  beamWidth: 6e-3,
} as PathInput;

describe("benchElements", () => {
  const layout = benchElements(path, { bore: 0.04, length: 0.6 }, [0, 2e-3]);
  const at = (kind: string): number => layout.elements.find((e) => e.kind === kind)?.z ?? NaN;

  it("stands everything in the light's order at focal distances", () => {
    for (let i = 1; i < layout.elements.length; i++)
      expect(layout.elements[i].z).toBeGreaterThan(layout.elements[i - 1].z);
    expect(at("collimator") - at("level-slit")).toBeCloseTo(0.3, 12);
    expect(at("plumb-slit") - at("focusing-lens")).toBeCloseTo(0.5, 12);
    expect(at("second-collimator") - at("plumb-slit")).toBeCloseTo(0.2, 12);
    expect(at("sensor") - at("camera-lens")).toBeCloseTo(0.4, 12);
  });

  it("brings both edges of a bent beam together at F·θ and, turned over, on the sensor", () => {
    const [, , up, down] = layout.rays.filter((ray) => ray.view === "side");
    expect(up.offset[4]).toBeCloseTo(1e-3 + 0.5 * 2e-3, 12);
    expect(down.offset[4]).toBeCloseTo(up.offset[4], 12);
    expect(up.offset[7]).toBeCloseTo(1e-3 - 0.5 * 2e-3 * 2, 12);
    expect(down.offset[7]).toBeCloseTo(up.offset[7], 12);
    const top = layout.rays.filter((ray) => ray.view === "top");
    expect(top).toHaveLength(2);
    for (const ray of layout.rays) expect(ray.z.length).toBe(ray.offset.length);
  });
});
