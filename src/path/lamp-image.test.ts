import { describe, expect, it } from "vitest";
import type { PathInput } from "./api.ts";
import { beamStrips } from "./curve-bundle.ts";
import { imageScale } from "./image-scale.ts";
import { lampImage, lampShare } from "./lamp-image.ts";
import { lightBudget } from "./light-budget.ts";
import { spectralMap } from "./spectral-map.ts";
import { beamDirection } from "./through-bench.ts";
import { USUAL_RAIL } from "./usual-rail.ts";

const path: PathInput = {
  rail: { ...USUAL_RAIL, lampToCondenser: 0.1, condenserToSlit: 0.2 },
  source: { kind: "carbon-arc", size: 3e-3 },
  lampImage: true,
  levelSlit: 40e-6,
  plumbSlit: 20e-6,
  collimatorFocalLength: 0.3,
  focalLength: 0.6,
  secondCollimatorFocalLength: 0.3,
  cameraFocalLength: 0.3,
  disperser: { kind: "linear", wavelengthPerLength: 5e-6 },
  centreWavelength: 460e-9,
  beamHeight: 2e-3,
  beamSize: 0.012,
  beamWidth: 0.012,
  stray: 0,
  cameraRoll: 0,
  levelSlitTilt: 0,
  defocus: 0,
  inverted: false,
};
const map = spectralMap(path);

describe("the lamp's image", () => {
  it("is as large as the distances make it, and a spot smaller than the slit makes the line's image thinner", () => {
    expect(lampImage(path).diameter).toBeCloseTo(6e-3, 12);
    const small = { ...path, source: { ...path.source, size: 10e-6 } };
    expect(lampImage(small).slitFilled).toBeCloseTo(0.5, 12);
    expect(imageScale(small, map).levelSlitHeight / imageScale(path, map).levelSlitHeight).toBeCloseTo(
      0.5,
      9,
    );
  });

  it("shows its own profile through the piece of slit that the plumb slit looks at", () => {
    // A cone of brightness, 1 in the middle and 0 at 1.5 mm: 2 mm on its image are 1 mm on the spot, a third of the light.
    const profile = [
      [0, 4],
      [0.75e-3, 2],
      [1.5e-3, 0],
    ];
    const crater = { ...path, source: { ...path.source, profile } };
    expect(lampImage(crater).brightness).toBeCloseTo(1, 1);
    // The relay doubles: 4 mm off at the plumb slit is 2 mm at the level slit.
    const aside = { ...crater, plumbSlitOffset: 4e-3 };
    expect(lampImage(aside).brightness).toBeCloseTo(1 / 3, 2);
    const rate = (p: PathInput): number =>
      lightBudget({ path: p, map, pixel: 4e-6, quantumEfficiency: 1 }, 460e-9).electronRate;
    expect(rate(aside) / rate(crater)).toBeCloseTo(1 / 3, 1);
    expect(lampImage({ ...path, plumbSlitOffset: 7e-3 }).brightness).toBe(0);
  });

  it("fills the beam with a round cone: the strips' shares are a circle's chords", () => {
    // 8 mm at 200 mm is a cone of 12 mm in the tube: it just touches the beam's edges and fills π/4 of its square.
    const round = { ...path, condenserDiameter: 8e-3 };
    expect(lampImage(round).beamFilled).toBeCloseTo(Math.PI / 4, 2);
    const { heights, weights } = beamStrips(round, 5);
    expect(heights[2]).toBeCloseTo(2e-3, 12);
    expect(weights.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
    // Middles of the strips at 0, 0.4 and 0.8 of the radius.
    expect(weights[1] / weights[2]).toBeCloseTo(Math.sqrt(1 - 0.16), 9);
    expect(weights[0] / weights[2]).toBeCloseTo(0.6, 9);
    expect(weights[4]).toBeCloseTo(weights[0], 12);
    const plain = beamStrips({ ...path, lampImage: false, condenserDiameter: 8e-3 }, 5);
    expect(Array.from(plain.weights)).toEqual([0.2, 0.2, 0.2, 0.2, 0.2]);
  });
});

describe("a lamp or a condenser off its axis", () => {
  // 8 mm at 200 mm is a cone of 12 mm in the tube, where the beam is round and 12 mm too.
  const round = { ...path, aperture: "round", condenserDiameter: 8e-3 } as const;
  /** Share of a circle of radius r that another of the same radius covers, their middles d apart: 2 acos(d/2r) − (d/2r)·√(4 − d²/r²), over π. */
  const overlap = (d: number, r: number): number =>
    (2 * Math.acos(d / (2 * r)) - (d / (2 * r)) * Math.sqrt(4 - (d * d) / (r * r))) / Math.PI;

  it("a condenser aside lights what two circles have in common, whichever way it stands", () => {
    expect(lampImage(round).beamFilled).toBeCloseTo(1, 12);
    // 2 mm at 200 mm before the slit are 3 mm at 300 mm behind it.
    for (const condenserOffset of [
      { right: 0, up: 2e-3 },
      { right: 2e-3, up: 0 },
      { right: -1.2e-3, up: 1.6e-3 },
    ]) {
      const { beamFilled, coneMiddle } = lampImage({ ...round, condenserOffset });
      expect(Math.hypot(coneMiddle.right, coneMiddle.up)).toBeCloseTo(3e-3, 12);
      expect(beamFilled).toBeCloseTo(overlap(3e-3, 6e-3), 3);
    }
  });

  it("a condenser too high leaves the upper part of the beam dark, one to the side takes from all heights alike", () => {
    const high = beamStrips({ ...round, condenserOffset: { right: 0, up: 2e-3 } }, 9);
    const mean = high.weights.reduce((sum, w, i) => sum + w * high.heights[i], 0);
    // The lens that two equal circles share has its middle half way between theirs: 1.5 mm under the beam's own, at 2 mm.
    expect(mean).toBeCloseTo(0.5e-3, 4);
    expect(high.weights[8]).toBe(0);
    const aside = beamStrips({ ...round, condenserOffset: { right: 2e-3, up: 0 } }, 9);
    expect(aside.weights[8]).toBeCloseTo(aside.weights[0], 12);
    expect(() => beamStrips({ ...round, condenserOffset: { right: 0, up: 9e-3 } }, 9)).toThrow(/cone/);
  });

  it("a lamp aside lights the slit with another part of itself, and moves no cone", () => {
    const profile = [
      [0, 1],
      [1.5e-3, 0],
    ];
    const crater = { ...path, source: { ...path.source, profile } };
    // Half a millimetre of a cone of brightness that ends at 1.5 mm: two thirds are left.
    for (const lampOffset of [
      { right: 0.5e-3, up: 0 },
      { right: 0, up: -0.5e-3 },
    ]) {
      const seen = lampImage({ ...crater, lampOffset });
      expect(seen.brightness).toBeCloseTo(2 / 3, 2);
      expect(seen.coneMiddle).toEqual({ right: -0, up: -0 });
      expect(lampShare({ ...crater, lampOffset })).toBeCloseTo(2 / 3, 1);
    }
    // The image goes the other way, twice as far; a condenser takes it along, three times as far as it goes itself.
    expect(lampImage({ ...crater, lampOffset: { right: 1e-3, up: 0 } }).middle.right).toBeCloseTo(-2e-3, 12);
    expect(lampImage({ ...crater, condenserOffset: { right: 0, up: 1e-3 } }).middle.up).toBeCloseTo(3e-3, 12);
    expect(() => lampShare({ ...path, lampOffset: { right: 0, up: 5e-3 } })).toThrow(/path\.lampUp/);
  });

  it("an image that covers one edge of the slit thins the line and moves it", () => {
    // A spot of 3 mm, its image 6 mm, lifted so that its lower edge stands at the middle of the slit: the upper 20 µm are lit.
    const edge = { ...path, lampOffset: { right: 0, up: -1.5e-3 } };
    expect(imageScale(edge, map).levelSlitHeight / imageScale(path, map).levelSlitHeight).toBeCloseTo(0.5, 9);
    const direction = beamDirection(edge, Float64Array.of(460e-9));
    expect(direction?.[0]).toBeCloseTo(-10e-6 / 0.3, 12);
    expect(beamDirection(path, Float64Array.of(460e-9))).toBeUndefined();
  });
});
