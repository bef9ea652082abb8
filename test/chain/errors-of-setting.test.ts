/**
 * Which way each error of setting moves the stored picture. What is expected is worked out here by hand from the bench alone (z with the light, y up, x to the right as the camera
 * sees it; the picture is stored upright, longer waves to the right), never from the program's own geometry:
 *   level slit, d above the axis, f1 behind a lens  ->  beam down by d/f1  ->  line lower by d·F/f1 at the plumb slit, · f4/f3 on the sensor
 *   grating of g grooves/m met square on            ->  sin θ = gλ; a slit wider or aside by 1 is drawn 1/cos θ
 * Two narrow bands of one lamp make two spots, whose middles are weighed out of the file's own samples.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  coldCurve,
  type Forecast,
  forecast,
  frameOf,
  lightOf,
  overrideSetup,
  parseJsonObject,
  parseSetup,
} from "../../src/setup/index.ts";
import { COARSE_GRID } from "../../src/vessel/index.ts";
import { type Spot, spotIn } from "./spot.ts";
const demo = parseJsonObject(
  readFileSync(join(import.meta.dirname, "../../examples/blue-twins.json"), "utf8"),
  "blue-twins.json",
);
const COLUMNS = 180;
const ROWS = 120;
const PIXEL = 16e-6;
const CAMERA = [
  `camera.columns=${COLUMNS}`,
  `camera.rows=${ROWS}`,
  "camera.pixel=16 um",
  "camera.gamma=1",
  "camera.blackLevel=0.02",
  "camera.bitDepth=16",
  "camera.readNoise=1",
  "path.centreWavelength=457.6 nm",
  // 0.24 mm on the sensor for each nanometre; a spectral line 20 um wide is drawn 28 um wide.
  "path.disperser.kind=grating",
  "path.disperser.grooves=600 /mm",
  "path.disperser.order=1",
];
/** One band on either side of the middle, 3.4 nm apart, wide enough (1 nm, fifteen columns) that a picture's own wavelengths weigh it well. */
const BANDS = [
  "path.source.kind=table",
  "path.source.radiance=1 W.m-2.sr-1",
  `path.source.spectrum=${JSON.stringify([
    ["454 nm", 0],
    ["455.4 nm", 0],
    ["455.9 nm", 1],
    ["456.4 nm", 0],
    ["458.8 nm", 0],
    ["459.3 nm", 1],
    ["459.8 nm", 0],
    ["461 nm", 0],
  ])}`,
];
/** cos θ of 457.6 nm behind the grating: sin θ = 0.27456. */
const COSINE = Math.sqrt(1 - 0.27456 ** 2);
/** Sensor over plumb slit: f4/f3 of the demonstration, 400 mm over 300 mm. */
const RELAY = 400 / 300;

const seen = (...settings: string[]): Forecast =>
  forecast(parseSetup(overrideSetup(demo, [...CAMERA, ...settings])), { grid: COARSE_GRID });
/** Samples of the cold picture's file, black level taken off, 0…1. */
const cold = ({ setup, curve }: Forecast): Float64Array => {
  const own = coldCurve(curve);
  return dark(frameOf(lightOf(own, setup.camera), setup.camera, own).samples);
};
const hot = ({ frame }: Forecast): Float64Array => dark(frame.samples);
const dark = (samples: ArrayLike<number>): Float64Array =>
  Float64Array.from(samples, (s) => (s / 65535 - 0.02) / 0.98);

const spot = (picture: Float64Array, from: number, to: number): Spot =>
  spotIn(picture, from, to, { columns: COLUMNS, rows: ROWS });
/** The spots of the shorter and the longer wave. */
const spots = (...settings: string[]): readonly [Spot, Spot] => {
  const picture = cold(seen(...BANDS, ...settings));
  return [spot(picture, 0, COLUMNS / 2), spot(picture, COLUMNS / 2, COLUMNS)];
};
const [blue, red] = spots();
/** Where a wave falls behind the grating, pixels right of the middle. */
const place = (nm: number): number =>
  (0.4 * Math.tan(Math.asin(6e5 * nm * 1e-9) - Math.asin(6e5 * 457.6e-9))) / PIXEL;
const column = (nm: number): number => Math.round(COLUMNS / 2 + place(nm));

describe("two spots of a bench set right", () => {
  it("stand level, the longer wave to the right, as far apart as sin θ = gλ says", () => {
    expect(blue.right).toBeCloseTo(place(455.9), 1);
    expect(red.right).toBeCloseTo(place(459.3), 1);
    expect(Math.abs(blue.up)).toBeLessThan(0.05);
    expect(Math.abs(red.up)).toBeLessThan(0.05);
  });
});

describe("slits out of place", () => {
  const down = (0.16e-3 * RELAY) / PIXEL;

  it("a level slit 0.16 mm above the axis lowers both spots by 13.3 pixels, in a picture stored upside down it raises them", () => {
    const lowered = spots("path.levelSlitOffset=0.16 mm");
    const over = spots("path.levelSlitOffset=0.16 mm", "path.inverted=true");
    for (const k of [0, 1] as const) {
      expect(lowered[k].up).toBeCloseTo(-down, 1);
      expect(over[k].up).toBeCloseTo(down, 1);
      expect(lowered[k].right).toBeCloseTo([blue, red][k].right, 1);
    }
  });

  it("a plumb slit 60 um to the right moves both spots to the right by 60 um · 4/3 / cos θ = 5.2 pixels", () => {
    const moved = spots("path.plumbSlitOffset=60 um");
    const right = (60e-6 * RELAY) / COSINE / PIXEL;
    expect(right).toBeCloseTo(5.2, 1);
    expect(moved[0].right - blue.right).toBeCloseTo(right, 1);
    expect(moved[1].right - red.right).toBeCloseTo(right, 1);
    expect(moved[0].up).toBeCloseTo(blue.up, 1);
  });

  it("a plumb slit leaning its top to the right: the raised spot stands to the right of the lowered one, and the cold line stays level", () => {
    const lean = "path.plumbSlitTilt=50 mrad";
    const [above, below] = [
      spots(lean, "path.levelSlitOffset=-0.3 mm"),
      spots(lean, "path.levelSlitOffset=0.3 mm"),
    ];
    for (const k of [0, 1] as const) {
      const [up, right] = [above[k].up - below[k].up, above[k].right - below[k].right];
      expect(up).toBeCloseTo((0.6e-3 * RELAY) / PIXEL, 0);
      // Across, everything is drawn 1/cos θ; the bow of the lines is alike above and below.
      expect(right / up).toBeCloseTo(Math.tan(0.05) / COSINE, 3);
    }
    expect(above[1].up - above[0].up).toBeCloseTo(0, 1);
  });

  it("in a picture stored upside down heights change sign and colours keep their side: a slit leaning its top to the right then slopes the other way, one to the right still moves the spectrum to the right", () => {
    const setting = ["path.plumbSlitTilt=50 mrad", "path.plumbSlitOffset=60 um", "path.inverted=true"];
    // Light through the slit's raised half comes from above the axis there, where the slit stands farther right; stored, it lies below the middle.
    const [above, below] = [
      spots(...setting, "path.levelSlitOffset=-0.3 mm"),
      spots(...setting, "path.levelSlitOffset=0.3 mm"),
    ];
    const right = (60e-6 * RELAY) / COSINE / PIXEL;
    for (const k of [0, 1] as const) {
      const [up, across] = [above[k].up - below[k].up, above[k].right - below[k].right];
      expect(up).toBeCloseTo(-(0.6e-3 * RELAY) / PIXEL, 0);
      expect(across / up).toBeCloseTo(-Math.tan(0.05) / COSINE, 3);
      // The bow of the lines is alike above and below: what the slit's own place adds stands in their mean.
      const level = [spots("path.levelSlitOffset=-0.3 mm"), spots("path.levelSlitOffset=0.3 mm")];
      const still = (level[0][k].right + level[1][k].right) / 2;
      expect((above[k].right + below[k].right) / 2 - still).toBeCloseTo(right, 1);
    }
  });

  it("a slope of the level slit's image raises the longer wave and lowers the shorter", () => {
    const sloping = spots("path.levelSlitTilt=30 mrad");
    expect(sloping[1].up).toBeCloseTo(Math.tan(0.03) * red.right, 1);
    expect(sloping[0].up).toBeCloseTo(Math.tan(0.03) * blue.right, 1);
    expect(sloping[1].up).toBeGreaterThan(0.5);
    // The slit's image alone is turned: what stands above does not move sideways.
    const raised = spots("path.levelSlitTilt=30 mrad", "path.levelSlitOffset=-0.3 mm")[1];
    const still = spots("path.levelSlitOffset=-0.3 mm")[1];
    expect(raised.right).toBeCloseTo(still.right, 1);
  });
});

describe("camera and windows", () => {
  it("a roll that raises the right end leaves the middle, and takes what stands high to the left", () => {
    const [cosine, sine] = [Math.cos(0.03), Math.sin(0.03)];
    for (const offset of ["-0.3 mm", "0.3 mm"]) {
      const still = spots(`path.levelSlitOffset=${offset}`);
      const rolled = spots(`path.levelSlitOffset=${offset}`, "path.cameraRoll=30 mrad");
      for (const k of [0, 1] as const) {
        expect(rolled[k].right).toBeCloseTo(still[k].right * cosine - still[k].up * sine, 1);
        expect(rolled[k].up).toBeCloseTo(still[k].right * sine + still[k].up * cosine, 1);
      }
    }
    expect(spots("path.cameraRoll=30 mrad")[1].up).toBeGreaterThan(0.5);
  });

  it("windows thicker above bend the beam up by (n − 1) of their wedge: n = 1.4652 of silica at 457.6 nm (Malitson's formula), 11.6 pixels for 1 mrad", () => {
    const bent = spots("path.windowWedge=1 mrad", "vessel.windowMaterial=fused-silica");
    const up = (0.4652e-3 * 0.3 * RELAY) / PIXEL;
    expect(up).toBeCloseTo(11.6, 1);
    for (const each of bent) expect(each.up).toBeCloseTo(up, 1);
  });

  it("out of focus the spots grow both ways by what the blur adds, and keep their places", () => {
    const [soft] = spots("path.defocus=24 um");
    const more = (24e-6 ** 2 - 3e-6 ** 2) / PIXEL ** 2;
    // Where the spot is fainter than a hundredth it is not weighed: some of its outskirts are missing.
    for (const grown of [soft.wide - blue.wide, soft.high - blue.high]) {
      expect(grown / more).toBeGreaterThan(0.7);
      expect(grown / more).toBeLessThan(1.02);
    }
    expect(soft.right).toBeCloseTo(blue.right, 1);
    expect(soft.up).toBeCloseTo(blue.up, 1);
  });

  it("stray light lifts the dark parts by its share of the cold line, hot pixels shine singly and in the same places", () => {
    // Full scale is 15 000 electrons, the cold line has 12 000 of them.
    const veiled = cold(seen(...BANDS, "path.stray=0.1"));
    const plain = cold(seen(...BANDS));
    const corner = (picture: Float64Array): number =>
      picture.subarray(0, 20 * COLUMNS).reduce((sum, v) => sum + v / (20 * COLUMNS), 0);
    expect(corner(veiled) - corner(plain)).toBeCloseTo((0.1 * 12000) / 15000, 3);
    const leaks = ["camera.hotPixels=0.01", "camera.hotCurrent=40000"];
    const [one, two] = [1, 2].map((seed) => cold(seen(...BANDS, ...leaks, `camera.seed=${seed}`)));
    const shining = (picture: Float64Array): number[] =>
      Array.from(picture.subarray(0, 20 * COLUMNS).keys()).filter((p) => picture[p] > 0.05);
    expect(shining(plain)).toEqual([]);
    const places = shining(one);
    // 36 of 3600 expected; leaks are spread about their mean of 4000 electrons, the smallest do not show.
    expect(places.length).toBeGreaterThan(15);
    expect(places.length).toBeLessThan(60);
    const both = places.filter((p) => two[p] > 0.03);
    expect(both.length / places.length).toBeGreaterThan(0.9);
    expect(Math.min(...one)).toBeGreaterThan(-0.01);
  });
});

describe("disperser turned about its plumb axis", () => {
  const moved = (...settings: string[]): number => {
    const turned = spots(...settings, "path.disperser.turn=0.5 deg")[0].right;
    const back = spots(...settings, "path.disperser.turn=-0.5 deg")[0].right;
    const still = spots(...settings)[0].right;
    // What goes with the turn, and what goes with its square, pixels.
    if (settings.length === 0) return (turned - back) / 2;
    return (turned + back) / 2 - still;
  };

  it("a grating turned towards longer waves moves its spectrum to the shorter ones: dθ/dt = 1 − 1/cos θ", () => {
    // Its normal turned by t from +z to +x, light still along z: sin(θ − t) = gλ − sin t.
    const t = (0.5 * Math.PI) / 180;
    const at = (turn: number): number => Math.asin(6e5 * 455.9e-9 - Math.sin(turn)) + turn;
    const expected = (0.4 * (at(t) - at(-t))) / 2 / PIXEL;
    expect(expected).toBeLessThan(-5);
    expect(moved()).toBeCloseTo(expected, 0);
  });

  it("a prism at least deviation moves every colour the way that more deviation goes, whichever way it is turned: to the shorter waves", () => {
    const prism = ["path.disperser.kind=prism", "path.disperser.glass=728284", "path.disperser.apex=60 deg"];
    // By Snell's law at both faces; n of the catalogue, between F (1.74648) and g (1.76198) straight in 1/λ²: 1.7547 at 457.6 nm, for which it stands at least deviation, 1.7552 at 455.9 nm.
    const [middle, n, apex] = [1.7547, 1.7552, Math.PI / 3];
    const deviation = (i: number): number =>
      i + Math.asin(n * Math.sin(apex - Math.asin(Math.sin(i) / n))) - apex;
    const least = Math.asin(middle * Math.sin(apex / 2));
    const t = (0.5 * Math.PI) / 180;
    const more = (deviation(least + t) + deviation(least - t)) / 2 - deviation(least);
    const expected = (-0.4 * more) / PIXEL;
    expect(expected).toBeLessThan(-1);
    expect(moved(...prism)).toBeCloseTo(expected, 0);
  });
});

describe("tube and beam", () => {
  const lamp = ["path.levelSlit=30 um", "path.defocus=3 um"];
  /** How high the light stands over some columns, pixels, against the cold line of the same bench; and how much of it is left. */
  const curve = (from: number, to: number, ...settings: string[]): { up: number; left: number } => {
    const run = seen(...lamp, ...settings);
    const [warm, rest] = [
      spot(hot(run), column(from), column(to)),
      spot(cold(run), column(from), column(to)),
    ];
    return { up: warm.up - rest.up, left: warm.light / rest.light };
  };
  /** Beside the strong line at 455.66 nm: waves a little longer, and a little shorter. */
  const longer = (...settings: string[]) => curve(455.75, 455.95, ...settings).up;
  const shorter = (...settings: string[]) => curve(455.37, 455.57, ...settings).up;

  it("with the dense vapour below, waves longer than their line (n > 1) bend down and shorter ones (n < 1) up", () => {
    expect(longer()).toBeLessThan(-0.5);
    expect(shorter()).toBeGreaterThan(0.5);
  });

  it("upside down the tube turns the curve over; on its side it bends nothing up or down; between, the cosine counts, either way round", () => {
    const up = longer();
    expect(longer("path.tubeRoll=180 deg")).toBeCloseTo(-up, 1);
    expect(Math.abs(longer("path.tubeRoll=90 deg"))).toBeLessThan(0.1 * Math.abs(up));
    const [one, other] = [longer("path.tubeRoll=60 deg"), longer("path.tubeRoll=-60 deg")];
    expect(one / up).toBeCloseTo(0.5, 1);
    expect(other).toBeCloseTo(one, 1);
    // Stored upside down, the picture is turned over as the tube was.
    expect(longer("path.inverted=true")).toBeCloseTo(-up, 1);
  });

  it("a lower beam meets more vapour: less light is left beside the line, and a higher one keeps more", () => {
    const [low, middle, high] = ["-4 mm", "0 mm", "4 mm"].map(
      (height) => curve(459.45, 459.5, `path.beamHeight=${height}`).left,
    );
    expect(low).toBeLessThan(0.97 * middle);
    expect(high).toBeGreaterThan(1.03 * middle);
  });

  it("smoke dims hot and cold, fog in the hot tube the hot picture alone", () => {
    const light = (picture: Float64Array): number => picture.reduce((sum, v) => sum + v, 0);
    const [plain, smoky, foggy] = [[], ["path.smoke=0.5"], ["path.fog=0.5"]].map((settings) =>
      seen(...lamp, ...settings),
    );
    expect(light(cold(smoky)) / light(cold(plain))).toBeCloseTo(Math.exp(-0.5), 2);
    expect(light(hot(smoky)) / light(hot(plain))).toBeCloseTo(Math.exp(-0.5), 2);
    expect(light(cold(foggy)) / light(cold(plain))).toBeCloseTo(1, 2);
    expect(light(hot(foggy)) / light(hot(plain))).toBeCloseTo(Math.exp(-0.5), 2);
  });
});

describe("lamp and condenser off the axis", () => {
  /** A spot 0.1 mm wide drawn in its own size on a level slit of 0.6 mm: only the lit piece of the slit is drawn. */
  const small = [
    "path.lampImage=true",
    "path.source.size=0.1 mm",
    "path.levelSlit=0.6 mm",
    "path.rail.lampToCondenser=200 mm",
    "path.rail.condenserToSlit=200 mm",
  ];
  const height = (...settings: string[]): number => spots(...small, ...settings)[0].up;

  it("a lamp 0.15 mm too high lights the slit 0.15 mm below its middle, and the line rises by 12.5 pixels", () => {
    expect(height("path.lampUp=0.15 mm") - height()).toBeCloseTo((0.15e-3 * RELAY) / PIXEL, 0);
  });

  it("a condenser 0.05 mm too high lights the slit 0.1 mm above its middle, and the line falls by 8.3 pixels", () => {
    expect(height("path.condenserUp=0.05 mm") - height()).toBeCloseTo((-0.1e-3 * RELAY) / PIXEL, 0);
  });

  it("a lamp to the right lights the slit on the left, where only a plumb slit to the right looks", () => {
    const aside = (plumb: string): Spot =>
      spots(...small, "path.lampRight=0.1 mm", `path.plumbSlitOffset=${plumb}`)[0];
    expect(aside("100 um").light).toBeGreaterThan(0.5 * spots(...small)[0].light);
    expect(() => aside("-100 um")).toThrow(/lampUp|no light/);
  });

  it("a condenser too high sends its cone down: the lower half of the beam is lit, which meets more vapour", () => {
    const cone = ["path.lampImage=true", "path.condenserDiameter=5.4 mm"];
    const left = (up: string): number => {
      const run = seen(...cone, `path.condenserUp=${up}`, "path.rail.condenserToSlit=200 mm");
      const [from, to] = [column(459.45), column(459.5)];
      return spot(hot(run), from, to).light / spot(cold(run), from, to).light;
    };
    const [down, straight, up] = [left("-2 mm"), left("0 mm"), left("2 mm")];
    expect(up).toBeLessThan(0.98 * straight);
    expect(down).toBeGreaterThan(1.02 * straight);
  });
});
