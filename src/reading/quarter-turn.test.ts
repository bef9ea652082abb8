import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { expose, type Frame, renderLamp, type Turn, turned } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, type Setup, vapourStage, metalOf } from "../setup/index.ts";
import { readPicture, turnedFrames, turnWanted } from "./index.ts";

const setup = benchSetup();
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const hot = pictureStage(setup, curve).frame;
const cold = expose(pictureStage(setup, coldCurve(curve)).light, setup.camera, 2);
const options = { beamHeights: 3, rough: true };
const stored = (turns: readonly Turn[]): { hot: Frame; cold: Frame } => ({
  hot: turns.reduce(turned, hot),
  cold: turns.reduce(turned, cold),
});

/** The eight ways a picture can lie, what sets them up, and what the reading then says. */
const WAYS: readonly (readonly [readonly Turn[], "none" | "left" | "right", boolean, boolean])[] = [
  [[], "none", false, false],
  [["mirror"], "none", true, false],
  [["flip"], "none", false, true],
  [["over"], "none", true, true],
  [["left"], "right", false, false],
  [["right"], "left", false, false],
  // Mirrored and on its side: the lines say the other turn, after which it stands upside down.
  [["mirror", "left"], "left", false, true],
  [["mirror", "right"], "right", false, true],
];

describe("the eight ways a picture can lie", () => {
  it.each(WAYS)(
    "stored as %s: turned %s, mirrored %s, upside down %s",
    (turns, turn, mirrored, overturned) => {
      const input = { ...stored(turns), setup, options };
      expect(turnWanted(input)).toBe(turn);
      const reading = readPicture(turnedFrames(input, turn));
      const { middle } = vapour;
      expect(Math.abs(reading.columnGradient.value / middle.columnGradient)).toBeCloseTo(1, 1);
      expect(reading.columnDensity.value / middle.columnDensity).toBeCloseTo(1, 1);
      expect(reading.orientation).toBe(mirrored ? "mirrored" : "as stored");
      expect(/upside down/.test(reading.warnings.join(" "))).toBe(overturned);
      if (turn !== "none") expect(reading.warnings[0]).toContain(`--turn ${turn}`);
      else expect(reading.warnings.join(" ")).not.toMatch(/--turn/);
    },
  );
});

describe("a picture on its side whose lines do not tell left from right", () => {
  // Both lines as strong: an invented metal.
  const even: Setup = {
    ...setup,
    medium: {
      ...metalOf(setup, "a test"),
      overrides: {
        ...metalOf(setup, "a test").overrides,
        oscillatorStrength: { "KI-766.70vac": 0.5, "KI-770.11vac": 0.5 },
      },
    },
  };
  const own = curveStage(even, vapourStage(even));
  const pair = {
    hot: turned(pictureStage(even, own).frame, "left"),
    cold: turned(expose(pictureStage(even, coldCurve(own)).light, even.camera, 3), "left"),
  };

  it("is asked about in one sentence that names the flag", () => {
    expect(() => turnWanted({ ...pair, setup: even })).toThrow(
      /say how to turn it, left or right \(--turn on the command line\)\.$/,
    );
  });

  it("is turned where a lamp tells", () => {
    const lines = [766.05e-9, 767.75e-9, 769.5e-9, 770.6e-9];
    const light = renderLamp(
      lines.map((wavelength) => ({ wavelength, intensity: 0.6 })),
      own.map,
      own.scale,
      even.camera,
    );
    const lamp = turned(expose(light, even.camera, 4), "left");
    expect(turnWanted({ ...pair, lamp, lampLines: lines, setup: even })).toBe("right");
  });

  it("is not turned under marks that were set on it as it lies", () => {
    const marks = { points: [{ column: 50, row: 50 }] };
    expect(() => turnWanted({ ...stored(["left"]), marks, setup })).toThrow(
      /marks set on it as it lies.*--turn/,
    );
  });
});
