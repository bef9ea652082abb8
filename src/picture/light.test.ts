import { describe, expect, it } from "vitest";
import { coldBundle, type CurveBundle, imageScale, spectralMap } from "../path/index.ts";
import { renderLamp } from "./lamp.ts";
import { renderLight } from "./light.ts";
import { createWorkspace } from "./workspace.ts";
import { plainBench } from "../path/testing/plain-bench.ts";

const pixel = 10e-6;
const path = plainBench({
  levelSlit: 60e-6,
  plumbSlit: 25e-6,
  collimatorFocalLength: 0.5,
  focalLength: 0.5,
  disperser: { kind: "linear", wavelengthPerLength: 2e-6 },
  centreWavelength: 768e-9,
  beamSize: 4e-3,
  beamWidth: 4e-3,
  defocus: 7e-6,
});
const map = spectralMap(path);
const scale = imageScale(path, map, { diffraction: false });
const sensor = { pixel, columns: 120, rows: 101 };

/** Wavelengths from left to right of the sensor and beyond, evenly. */
function even(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) =>
    map.wavelengthAt(pixel * (-70 + (140 * i) / (count - 1))),
  );
}

/** A hyperbola on either side of the middle with a square-law gap, gradient growing with height. */
function hyperbola(wavelengths: Float64Array, heights: number): CurveBundle {
  const n = wavelengths.length;
  const deflection = new Float64Array(heights * n);
  const transmission = new Float64Array(heights * n);
  for (let h = 0; h < heights; h++) {
    const y = (h + 0.5) / heights - 0.5;
    for (let i = 0; i < n; i++) {
      const d = (wavelengths[i] - 768.013e-9) * 1e9;
      deflection[h * n + i] = (-5e-5 * (1 + 0.3 * y)) / d;
      transmission[h * n + i] = Math.exp(-0.01 / (d * d + 1e-9));
    }
  }
  return { wavelengths, weights: new Float64Array(heights).fill(1 / heights), deflection, transmission };
}

/** Share of the interval [a, b] seen through a Gaussian at u, by 41-point sums: independent of the renderer's closed forms. */
function boxThroughGauss(u: number, width: number, sigma: number): number {
  let sum = 0;
  let total = 0;
  for (let k = -40; k <= 40; k++) {
    const z = k / 8;
    const g = Math.exp((-z * z) / 2);
    total += g;
    // Box of the slit seen by a pixel of width 1: overlap of [u ± ½] with [±width/2].
    const c = u + z * sigma;
    const overlap = Math.min(c + 0.5, width / 2) - Math.max(c - 0.5, -width / 2);
    sum += g * Math.max(0, overlap);
  }
  return sum / total / width;
}

describe("renderLight", () => {
  it("draws the cold line at 1 in its middle, in the middle of the picture", () => {
    const light = renderLight(coldBundle(even(141)), map, scale, sensor);
    for (let c = 0; c < sensor.columns; c++) {
      // 101 rows: row 50 is centred on the middle. The slit's image is 6 pixels high, blur 0.7.
      // A point is smeared by a quarter pixel, which takes 5e-6 off the flat top here.
      expect(light[50 * 120 + c]).toBeCloseTo(1, 4);
      expect(light[40 * 120 + c]).toBe(0);
      expect(light[47 * 120 + c]).toBeCloseTo(light[53 * 120 + c], 5); // single-precision tables
    }
  });

  // Two places make a column under a narrow blur, one under a wide one: both ways must be right.
  it.each([0.7, 2.2])(
    "agrees with a direct integral over wavelength, height and pixel, blur %f px",
    (blur) => {
      const coarse = hyperbola(even(2801), 9);
      const blurred = { ...scale, blurHeight: blur * pixel, blurWidth: blur * pixel };
      const light = renderLight(coarse, map, blurred, sensor);
      const across = table(2.5, blur);
      const up = table(6, blur);
      const fine = hyperbola(even(56001), 45);
      const n = fine.wavelengths.length;
      const peak = boxThroughGauss(0, 6, blur);
      let worst = 0;
      let sumSquares = 0;
      let count = 0;
      for (let c = 40; c < 80; c += 3) {
        const expected = new Float64Array(sensor.rows);
        // Light by its height in steps as fine as the table's, spread over the rows only once all of it is there.
        const atHeight = new Float64Array(2 * 60 * STEPS + 1);
        for (let i = 0; i + 1 < n; i++) {
          const x = -70 + (140 * (i + 0.5)) / (n - 1);
          const share = across(c + 0.5 - 60 - x);
          if (share === 0) continue;
          for (let h = 0; h < 45; h++) {
            const y = ((fine.deflection[h * n + i] + fine.deflection[h * n + i + 1]) / 2) * (0.5 / pixel);
            const t = (fine.transmission[h * n + i] + fine.transmission[h * n + i + 1]) / 2;
            if (t < 1e-7 || Math.abs(y) > 60) continue;
            atHeight[Math.round((y + 60) * STEPS)] += ((140 / (n - 1)) * share * t) / 45 / peak;
          }
        }
        atHeight.forEach((amount, k) => {
          if (amount === 0) return;
          const y = k / STEPS - 60;
          const first = Math.max(0, Math.floor(50.5 - y - REACH));
          const last = Math.min(sensor.rows - 1, Math.ceil(50.5 - y + REACH));
          for (let r = first; r <= last; r++) expected[r] += amount * up(50.5 - (r + 0.5) - y);
        });
        for (let r = 0; r < sensor.rows; r++) {
          const difference = Math.abs(light[r * 120 + c] - expected[r]);
          worst = Math.max(worst, difference);
          sumSquares += difference * difference;
          count++;
        }
      }
      // Shot noise at 20 000 electrons is 0.7 % of the peak: the renderer must stay well below it everywhere.
      expect(worst).toBeLessThan(3e-3);
      expect(Math.sqrt(sumSquares / count)).toBeLessThan(5e-4);
    },
    120_000,
  );

  it("loses no light", () => {
    const wavelengths = Float64Array.from({ length: 600 }, (_, i) =>
      map.wavelengthAt(pixel * (-40 + (80 * i) / 599)),
    );
    const bundle = { ...hyperbola(wavelengths, 5), transmission: new Float64Array(5 * 600).fill(0.5) };
    for (let i = 0; i < bundle.deflection.length; i++)
      bundle.deflection[i] = Math.max(-4e-4, Math.min(4e-4, bundle.deflection[i]));
    const light = renderLight(bundle, map, scale, sensor);
    const cold = renderLight(coldBundle(wavelengths), map, scale, sensor);
    const sum = (a: Float32Array): number => a.reduce((s, v) => s + v, 0);
    expect(sum(light) / sum(cold)).toBeCloseTo(0.5, 6);
  });

  it("raises the right end with a positive roll or slit tilt, and turns over when inverted", () => {
    const wavelengths = even(141);
    for (const change of [{ roll: 0.05 }, { levelSlitTilt: 0.05 }]) {
      const light = renderLight(coldBundle(wavelengths), map, { ...scale, ...change }, sensor);
      expect(centreRow(light, 110)).toBeCloseTo(50.5 - 50.5 * Math.tan(0.05), 1);
      expect(centreRow(light, 9)).toBeCloseTo(50.5 + 50.5 * Math.tan(0.05), 1);
    }
    const bundle = coldBundle(wavelengths);
    bundle.deflection.fill(2e-4);
    const upright = renderLight(bundle, map, scale, sensor);
    const inverted = renderLight(bundle, map, imageScale({ ...path, inverted: true }, map), sensor);
    expect(centreRow(upright, 60)).toBeCloseTo(50.5 - 10, 3);
    expect(centreRow(inverted, 60)).toBeCloseTo(50.5 + 10, 3);
  });

  it("shows no beads on steep branches even from few heights and wavelengths", () => {
    const light = renderLight(hyperbola(even(561), 5), map, scale, sensor);
    const reference = renderLight(hyperbola(even(22401), 41), map, scale, sensor);
    let worst = 0;
    for (let p = 0; p < light.length; p++) worst = Math.max(worst, Math.abs(light[p] - reference[p]));
    expect(worst).toBeLessThan(0.02);
  });

  it("gives the same picture from used memory", () => {
    const workspace = createWorkspace();
    const bundle = hyperbola(even(701), 7);
    const first = renderLight(bundle, map, { ...scale, roll: 0.02, stray: 0.01 }, sensor, { workspace });
    renderLight(coldBundle(even(300)), map, scale, sensor, { workspace });
    const again = renderLight(bundle, map, { ...scale, roll: 0.02, stray: 0.01 }, sensor, { workspace });
    expect(again).toEqual(first);
    expect(Math.min(...first)).toBeCloseTo(0.01, 6);
  });

  it("gives the same bits without the kernel, whatever the sizes, roll and spread", () => {
    const plain = createWorkspace(false);
    const fast = createWorkspace();
    expect(fast.kernel).toBeDefined();
    const cases = [
      { columns: 120, rows: 101, heights: 9, count: 701, blur: 0.7, roll: 0.02, stray: 0.01, smile: 40 },
      { columns: 61, rows: 34, heights: 1, count: 300, blur: 2.2, roll: 0, stray: 0, smile: 0 },
      { columns: 33, rows: 16, heights: 25, count: 2801, blur: 0, roll: -0.05, stray: 0, smile: -30 },
      { columns: 120, rows: 101, heights: 61, count: 1400, blur: 1.1, roll: 0, stray: 0.002, smile: 0 },
      { columns: 97, rows: 130, heights: 15, count: 900, blur: 2.4, roll: 0.003, stray: 0, smile: 20 },
    ];
    for (const { columns, rows, heights, count, blur, roll, stray, smile } of cases) {
      const bundle = hyperbola(even(count), heights);
      const own = { ...scale, blurHeight: blur * pixel, blurWidth: blur * pixel, roll, stray };
      const bowed = { ...map, smile };
      const made = [plain, fast].map((workspace) =>
        renderLight(bundle, bowed, own, { pixel, columns, rows }, { workspace }),
      );
      expect(made[1]).toEqual(made[0]);
      expect(Math.max(...made[0])).toBeGreaterThan(0.3);
    }
  });

  it("shows the lamp's spectrum and refuses where no light reaches the sensor", () => {
    const wavelengths = even(141);
    const spectrum = wavelengths.map((w) => (w - 767e-9) * 1e9);
    const light = renderLight(coldBundle(wavelengths), map, scale, sensor, { spectrum });
    expect(light[50 * 120 + 119]).toBeGreaterThan(0.98);
    expect(light[50 * 120 + 10] / light[50 * 120 + 110]).toBeCloseTo(0.01 / 2.01, 1);
    expect(() =>
      renderLight(coldBundle(wavelengths), map, scale, sensor, { spectrum: new Float64Array(141) }),
    ).toThrow(/centre wavelength/);
    expect(() =>
      renderLight(coldBundle(wavelengths), map, scale, sensor, { spectrum: new Float64Array(3) }),
    ).toThrow(/141/);
  });
});

describe("renderLamp", () => {
  it("puts each line at its column over the full height, bowed and rolled as the picture is", () => {
    const bowed = { ...map, smile: 40 };
    const lines = [{ wavelength: map.wavelengthAt(20 * pixel), intensity: 0.8 }];
    const light = renderLamp(lines, bowed, { ...scale, roll: 0.02 }, sensor);
    for (const r of [0, 30, 50, 70, 100]) {
      const up = 50.5 - (r + 0.5);
      // Small angles: X = 20 + bow·Y², column = 60 + X − Y·sin(roll), with Y the height before the roll.
      const y = (up - 20 * Math.sin(0.02)) / Math.cos(0.02);
      const expected = 60 + (20 + 40 * pixel * y * y) * Math.cos(0.02) - y * Math.sin(0.02);
      const row = light.subarray(r * 120, (r + 1) * 120);
      let sum = 0;
      let moment = 0;
      row.forEach((v, c) => {
        sum += v;
        moment += v * (c + 0.5);
      });
      expect(moment / sum).toBeCloseTo(expected, 2);
    }
    expect(Math.max(...light)).toBeGreaterThan(0.75);
    expect(Math.max(...light)).toBeLessThan(0.801);
  });
});

function centreRow(light: Float32Array, column: number): number {
  let sum = 0;
  let moment = 0;
  for (let r = 0; r < sensor.rows; r++) {
    sum += light[r * sensor.columns + column];
    moment += light[r * sensor.columns + column] * (r + 0.5);
  }
  return moment / sum;
}

/** Pixels on either side within which a point of light falls. */
const REACH = 16;
const STEPS = 512;

/** `boxThroughGauss` looked up at the nearest 1/512 of a pixel. */
function table(width: number, sigma: number): (u: number) => number {
  const values = Float64Array.from({ length: 2 * REACH * STEPS }, (_, i) =>
    boxThroughGauss(i / STEPS - REACH, width, sigma),
  );
  return (u) => values[Math.round((u + REACH) * STEPS)] ?? 0;
}
