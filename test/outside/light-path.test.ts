/**
 * Prisms, apertures, étendue, lamps and the sensor against textbook and handbook figures; the source stands beside each value.
 */
import { describe, expect, it } from "vitest";
import { glassIndexInAir } from "../../src/medium/index.ts";
import {
  AIRY_SIGMA,
  angleAfter,
  lightBudget,
  planckRadiance,
  roundPattern,
  slitPattern,
  sourceRadiance,
  spectralMap,
} from "../../src/path/index.ts";
import { record, tristimulus } from "../../src/picture/index.ts";
import { FRAUNHOFER } from "../../src/reference/index.ts";
import { plainBench } from "../../src/path/testing/plain-bench.ts";

const deg = Math.PI / 180;
const base = plainBench({
  source: { kind: "carbon-arc" },
});

describe("dispersion of a prism", () => {
  it("dD/dn = 2 sin(A/2)/√(1 − n² sin²(A/2)) at least deviation (Born & Wolf, Principles of Optics, section on the prism; from memory)", () => {
    // A 60° prism of 620364 (n_d = 1.62004, catalogue) set at least deviation: 1/√(1 − 1.62004²/4) = 1.70531.
    const d = FRAUNHOFER.find(({ letter }) => letter === "d")!.airWavelength;
    const n = glassIndexInAir("620364", d);
    const incidence = Math.asin(n * Math.sin(30 * deg));
    const train = { tilts: [incidence, incidence - 60 * deg], media: [-1, 0, -1] };
    const step = 1e-4;
    const slope = Math.abs(angleAfter(train, [n + step], 0) - angleAfter(train, [n - step], 0)) / (2 * step);
    expect(slope).toBeCloseTo(1.70531, 4);
  });

  it("a grating of 600/mm lit square on sends 500 nm to 17.458° and parts by 0.6290 mrad/nm there (sin θ = mgλ, dθ = mg dλ/cos θ, by hand)", () => {
    const map = spectralMap({
      ...base,
      centreWavelength: 500e-9,
      cameraFocalLength: 1,
      disperser: { kind: "grating", groovesPerMetre: 6e5, order: 1 },
    });
    const perNanometre = map.position(500.5e-9) - map.position(499.5e-9);
    expect(perNanometre * 1e3).toBeCloseTo(0.629, 3);
    expect(Math.asin(0.3) / deg).toBeCloseTo(17.458, 3);
  });
});

describe("diffraction at a round beam", () => {
  it("first dark at 1.2197 λ/D, second maximum 1.750 % at 1.635 λ/D, half width 1.029 λ/D (Born & Wolf, table of the Airy pattern; from memory)", () => {
    const unit = 0.5e-6 / 0.01;
    expect(roundPattern(1.2196699 * unit, 0.01, 0.5e-6)).toBeLessThan(1e-12);
    expect(roundPattern(1.6347 * unit, 0.01, 0.5e-6)).toBeCloseTo(0.0175, 5);
    expect(roundPattern((1.02899 / 2) * unit, 0.01, 0.5e-6)).toBeCloseTo(0.5, 5);
    expect(roundPattern(0, 0.01, 0.5e-6)).toBe(1);
    expect(AIRY_SIGMA * 2 * Math.sqrt(2 * Math.LN2)).toBeCloseTo(1.02899, 4);
  });

  it("holds 83.8 % within the first dark ring, 7 % in the first bright ring, 3 % in the second (astronomyclub.xyz, The Airy disk: 84, 7, 3; further figures after Born & Wolf, from memory); a slit 90.282 % between its first darks (answers.google.com, thread 528219: 1.41815 over π/2, for which it takes 1.57087)", () => {
    const unit = 0.5e-6 / 0.01;
    const within = (edge: number): number => {
      let sum = 0;
      const steps = 4000;
      for (let i = 0; i < steps; i++) {
        const r = ((i + 0.5) / steps) * edge;
        sum += roundPattern(r * unit, 0.01, 0.5e-6) * r * (edge / steps);
      }
      // All of the light: ∫(2J1(πr)/(πr))² r dr = 2/π².
      return (sum * Math.PI ** 2) / 2;
    };
    expect(within(1.21967)).toBeCloseTo(0.838, 3);
    expect(within(2.23313)).toBeCloseTo(0.91, 3);
    expect(within(2.23313) - within(1.21967)).toBeCloseTo(0.07, 2);
    expect(within(3.23832) - within(2.23313)).toBeCloseTo(0.03, 2);
    let sum = 0;
    for (let i = 0; i < 4000; i++) sum += slitPattern(((i + 0.5) / 4000) * unit, 0.01, 0.5e-6) / 4000;
    expect(2 * sum).toBeCloseTo(1.41815 / (Math.PI / 2), 5);
  });
});

describe("étendue and radiance", () => {
  it("every lossless lens keeps area times solid angle: flux in the line's image is radiance · étendue · band, whatever the focal lengths (Horiba, optics tutorial, section 3.1.1: étendue is a constant of the system)", () => {
    for (const [f1, f2, f3, f4] of [
      [0.3, 0.3, 0.3, 0.3],
      [0.2, 0.5, 0.3, 0.15],
      [1, 0.25, 0.1, 0.8],
    ]) {
      const path = {
        ...base,
        collimatorFocalLength: f1,
        focalLength: f2,
        secondCollimatorFocalLength: f3,
        cameraFocalLength: f4,
        disperser: { kind: "linear", wavelengthPerLength: 1.5e-6 / f4 } as const,
      };
      const map = spectralMap(path);
      const budget = lightBudget({ path, map, pixel: 1e-9, quantumEfficiency: 1 }, 550e-9);
      // What both slits leave of the beam, by hand: area of the piece of line behind the plumb slit times the solid angle of the beam there.
      const byHand =
        (((path.plumbSlit * path.levelSlit * f2) / f1) * (path.beamSize * path.beamWidth)) / f2 ** 2;
      expect(budget.etendue / byHand).toBeCloseTo(1, 7);
      // One column of the line's image, levelSlit·f2/f1·f4/f3 high and dx wide, gets what the slits pass of the band's colours.
      const image = ((path.levelSlit * f2) / f1) * (f4 / f3);
      const perWidth = (budget.irradiance / budget.throughput) * image;
      const expected = (budget.radiance * budget.etendue * 1.5e-6) / f4;
      expect(perWidth / expected).toBeCloseTo(1, 7);
    }
  });
});

describe("lamps", () => {
  const luminance = (radiance: (w: number) => number): number => {
    let sum = 0;
    for (let nm = 380; nm < 780; nm++) sum += 683 * tristimulus(nm * 1e-9)[1] * radiance(nm * 1e-9) * 1e-9;
    return sum;
  };

  it("a black body at 2042 K (freezing platinum) has 6.0e5 cd/m², the candela's definition of 1948 and 1967: 1/600 000 m² of a black body at freezing platinum (13th CGPM, resolution 5; 2042 K: Knowino, Candela)", () => {
    expect(luminance((w) => planckRadiance(w, 2042)) / 6e5).toBeCloseTo(1, 1);
  });

  it("a tungsten filament at 3000 K has about 1.26e7 cd/m² (Jones & Langmuir 1927, 1257 c/cm²; from memory, the emissivity fit is used beyond its range)", () => {
    const value = luminance(
      (w) => sourceRadiance({ kind: "halogen", temperature: 3000 }, Float64Array.of(w))[0],
    );
    expect(Math.abs(value / 1.257e7 - 1)).toBeLessThan(0.06);
  });

  it("the crater of a plain carbon arc shines as a black body of 3800 K from 300 to 4200 nm (J. Opt. Soc. Am. 52, 1156, 1962, abstract seen): 1.5 to 1.9e8 cd/m² (handbooks give 150 to 180 cd/mm²; from memory)", () => {
    for (const nm of [450, 550, 650]) {
      const own = sourceRadiance({ kind: "carbon-arc" }, Float64Array.of(nm * 1e-9))[0];
      expect(own / planckRadiance(nm * 1e-9, 3800)).toBeCloseTo(1, 2);
    }
    const value = luminance((w) => sourceRadiance({ kind: "carbon-arc" }, Float64Array.of(w))[0]);
    expect(value).toBeGreaterThan(1.5e8);
    expect(value).toBeLessThan(1.9e8);
  });

  it("a short xenon arc has 1.5 to 4e8 cd/m² over its length (makers' tables of 75 to 450 W lamps; from memory)", () => {
    const value = luminance((w) => sourceRadiance({ kind: "xenon-arc" }, Float64Array.of(w))[0]);
    expect(value).toBeGreaterThan(1.5e8);
    expect(value).toBeLessThan(4e8);
  });

  it("the white diode has the luminance that its own entry states, 100 lm from 1 mm² after Lambert's law", () => {
    const value = luminance((w) => sourceRadiance({ kind: "led" }, Float64Array.of(w))[0]);
    expect(Math.abs(value / (100 / Math.PI / 1e-6) - 1)).toBeLessThan(0.1);
  });
});

describe("photon transfer of the simulated sensor", () => {
  it("variance over mean is one over the electrons per step, read noise the intercept, both from pairs of flat frames (T. Abbott, CCD cookbook of CTIO, The Transfer Curve, after Janesick 1987)", () => {
    const bits = 12;
    const camera = {
      pixel: 5e-6,
      columns: 200,
      rows: 200,
      exposure: 1,
      rate: 1,
      fullWell: 15000,
      readNoise: 8,
      blackLevel: 0.02,
      bitDepth: 16,
      gamma: 1,
      seed: 1,
      sensor: {
        filter: "none",
        infraredFilter: false,
        converterBits: bits,
        darkCurrent: 20,
        hotPixels: 0,
        hotCurrent: 0,
        chip: 1,
      },
    } as const;
    const seen = { map: spectralMap(base), roll: 0 };
    const steps = 2 ** bits - 1;
    const flat = (electrons: number, seed: number): Float64Array => {
      const light = new Float32Array(40000).fill(electrons);
      return Float64Array.from(record(light, camera, seen, seed).samples, (s) =>
        Math.round((s / 65535) * steps),
      );
    };
    const points = [0, 500, 1000, 2000, 4000, 8000, 12000].map((electrons, k) => {
      const a = flat(electrons, 2 * k + 10);
      const b = flat(electrons, 2 * k + 11);
      let sum = 0;
      let square = 0;
      for (let p = 0; p < a.length; p++) {
        sum += (a[p] + b[p]) / 2;
        square += (a[p] - b[p]) ** 2;
      }
      return { signal: sum / a.length - 0.02 * steps, variance: square / a.length / 2 };
    });
    // Straight line through all points: slope 1/K, intercept (read² + step²/12)/K².
    const n = points.length;
    const sx = points.reduce((s, p) => s + p.signal, 0);
    const sy = points.reduce((s, p) => s + p.variance, 0);
    const sxx = points.reduce((s, p) => s + p.signal ** 2, 0);
    const sxy = points.reduce((s, p) => s + p.signal * p.variance, 0);
    const slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
    const electronsPerStep = 15000 / 0.98 / steps;
    expect(Math.abs(slope * electronsPerStep - 1)).toBeLessThan(0.02);
    const dark = Math.sqrt(points[0].variance - 1 / 12) * electronsPerStep;
    expect(Math.abs(dark / Math.sqrt(8 * 8 + 20) - 1)).toBeLessThan(0.02);
    // Signals are what was put in, dark current included.
    expect(points[6].signal * electronsPerStep).toBeCloseTo(12020, -1);
  });
});
