/**
 * Optics of vapours against an evaluation by other authors' w(z), recomputed from the printed components by
 * test/outside/generators/vapour_index.py (scipy 1.17.1, 2026-11-25), from the line's core to 20 nm away.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { LineComponent, VapourState } from "../../src/medium/index.ts";
import { perAtom, vapourComponents, vapourResponse } from "../../src/medium/index.ts";
import { responseOf } from "../../src/medium/response.ts";

interface Case {
  readonly state: VapourState;
  readonly components: readonly LineComponent[];
  readonly wavelength: readonly number[];
  readonly chiRe: readonly number[];
  readonly chiIm: readonly number[];
  readonly refractivity: readonly number[];
  readonly absorption: readonly number[];
  readonly groupIndex: readonly number[];
}

const { cases } = JSON.parse(
  readFileSync(join(import.meta.dirname, "fixtures/vapour-index.json"), "utf8"),
) as { cases: readonly Case[] };

/** Share of |χ| by which refractivity and absorption may differ; asked for is 1e-6. */
const SHARE = 1e-8;

/** Largest difference in units of |χ| of its own point. */
function worst(got: ArrayLike<number>, wanted: readonly number[], chi: readonly number[]): number {
  return wanted.reduce((largest, value, k) => Math.max(largest, Math.abs(got[k] - value) / chi[k]), 0);
}

describe("vapour optics against scipy's wofz", () => {
  for (const each of cases) {
    const { state } = each;
    const gas = state.gas === undefined ? "" : ` in ${state.gas.pressure} Pa ${state.gas.species}`;
    const title = `${state.element} ${state.density.toExponential(1)} m⁻³ at ${state.temperature} K${gas}`;
    const chi = each.chiRe.map((re, k) => Math.hypot(re, each.chiIm[k]));
    const wavelength = Float64Array.from(each.wavelength);

    it(`${title}: n − 1 and absorption to ${SHARE} of |χ|`, () => {
      expect(each.wavelength.length).toBeGreaterThan(150);
      const response = responseOf(each.components, state.density, wavelength);
      expect(worst(response.refractivity, each.refractivity, chi)).toBeLessThan(SHARE);
      const perLength = each.wavelength.map((lambda, k) => (chi[k] * 2 * Math.PI) / lambda);
      expect(worst(response.absorption, each.absorption, perLength)).toBeLessThan(SHARE);
    });

    it(`${title}: group index to 1e-6 of its departure from 1`, () => {
      const { groupIndex } = responseOf(each.components, state.density, wavelength);
      const departure = each.groupIndex.map((value) => Math.abs(value - 1) + 1e-12);
      const scale = departure.map((value, k) => Math.max(value, chi[k]));
      expect(worst(groupIndex, each.groupIndex, scale)).toBeLessThan(1e-6);
    });

    it(`${title}: the components are still those that were recomputed`, () => {
      const now = vapourComponents(state);
      expect(now.map((component) => component.line)).toEqual(
        each.components.map((component) => component.line),
      );
      now.forEach((component, k) => {
        const then = each.components[k];
        expect(component.wavelength / then.wavelength).toBeCloseTo(1, 12);
        for (const key of [
          "oscillatorStrength",
          "weight",
          "population",
          "dopplerWidth",
          "lorentzWidth",
        ] as const) {
          expect(component[key] / then[key]).toBeCloseTo(1, 9);
        }
      });
    });

    it(`${title}: per atom is the small-χ limit of the same`, () => {
      const one = perAtom(state, wavelength);
      const halves = each.chiRe.map((value) => value / 2 / state.density);
      expect(
        worst(
          one.refractivityPerDensity,
          halves,
          chi.map((size) => size / state.density),
        ),
      ).toBeLessThan(SHARE);
      const sections = each.chiIm.map(
        (value, k) => (2 * Math.PI * value) / each.wavelength[k] / state.density,
      );
      const scale = chi.map((size, k) => (2 * Math.PI * size) / each.wavelength[k] / state.density);
      expect(worst(one.crossSection, sections, scale)).toBeLessThan(SHARE);
    });
  }

  it("phase velocity is 1/n", () => {
    const { state, wavelength } = cases[1];
    const response = vapourResponse(state, Float64Array.from(wavelength));
    wavelength.forEach((_, k) => {
      expect(response.phaseVelocity[k] * (1 + response.refractivity[k])).toBeCloseTo(1, 14);
    });
  });
});
