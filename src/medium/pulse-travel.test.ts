import { describe, expect, it } from "vitest";
import { oscillatorMedium } from "./oscillators.ts";
import { pulseAt, travelPulse } from "./pulse-travel.ts";

const C = 299792458;
const RE = 2.8179403205e-15;
const LINE = 589e-9;
const WIDTH = 2 * Math.PI * 500e6;
const STRENGTH = 0.64;
const LENGTH = 0.3;
const W0 = (2 * Math.PI * C) / LINE;
const medium = (density: number) =>
  oscillatorMedium({ oscillators: [{ wavelength: LINE, strength: STRENGTH, width: WIDTH }], density });

/**
 * Group index less one of a thin Lorentz gas, differentiated by hand: with n − 1 = Re A/D, A = 2π r_e c² N f and
 * D = ω₀² − ω² − iγω, n_g − 1 = d(ω(n − 1))/dω = Re A (ω₀² + ω²)/D².
 */
function groupIndexLessOne(density: number, omega: number): number {
  const a = 2 * Math.PI * RE * C * C * density * STRENGTH;
  const [re, im] = [W0 ** 2 - omega ** 2, -WIDTH * omega];
  return (a * (W0 ** 2 + omega ** 2) * (re * re - im * im)) / (re * re + im * im) ** 2;
}

describe("a pulse on its way through a medium", () => {
  const density = 2e18;
  const detuning = 30 * WIDTH;
  const carrier = (2 * Math.PI * C) / (W0 - detuning);
  const duration = 4e-9;
  const travel = travelPulse(
    { medium: medium(density), length: LENGTH, carrier, shape: "cut-gauss", duration },
    12,
    -duration,
    8 * duration,
    2000,
  );
  const row = (k: number): Float64Array =>
    travel.intensity.subarray(k * travel.time.length, (k + 1) * travel.time.length);
  /** Retarded time of the highest intensity, s, by a parabola over the upper half. */
  const peak = (k: number): number => {
    const values = row(k);
    const top = values.indexOf(values.reduce((a, b) => Math.max(a, b), 0));
    let [weight, moment] = [0, 0];
    for (let j = top - 150; j <= top + 150; j++) {
      weight += values[j] ** 8;
      moment += values[j] ** 8 * travel.time[j];
    }
    return moment / weight;
  };

  it("is late at every depth by the analytic group delay, for a long pulse beside the line", () => {
    const perMetre = groupIndexLessOne(density, W0 - detuning) / C;
    expect(perMetre * LENGTH).toBeGreaterThan(0.02 * duration);
    for (const k of [3, 6, 9, 12]) {
      const expected = (perMetre * LENGTH * k) / 12;
      expect((peak(k) - peak(0)) / expected, `depth ${k}`).toBeCloseTo(1, 2);
    }
    expect(travel.report.groupDelay / (perMetre * LENGTH)).toBeCloseTo(1, 5);
  });

  it("has nothing anywhere before a front at c", () => {
    let [ahead, all] = [0, 0];
    for (let k = 0; k <= travel.steps; k++)
      row(k).forEach((value, j) => {
        all += value;
        if (travel.time[j] < 0) ahead += value;
      });
    // The accuracy that carryPulse states.
    expect(ahead / all).toBeLessThan(1e-6);
    for (const t of [1e-10, 5e-10, 2e-9])
      for (const beyond of [1e-3, 0.02, 0.1])
        expect(pulseAt(travel, C * t + beyond, t), `${t} s, ${beyond} m`).toBeLessThan(1e-6);
  });

  it("is the entering pulse before the entrance and the leaving one behind the exit", () => {
    const step = travel.time[1] - travel.time[0];
    for (const late of [0.5e-9, 4e-9, 7e-9]) {
      const j = Math.round((late - travel.time[0]) / step);
      const t = travel.time[j];
      expect(pulseAt(travel, -0.2, t - 0.2 / C)).toBeCloseTo(row(0)[j], 9);
      expect(pulseAt(travel, LENGTH + 0.2, t + (LENGTH + 0.2) / C)).toBeCloseTo(row(12)[j], 9);
      expect(row(0)[j]).toBeCloseTo(2 ** (-4 * (t / duration - 1) ** 2), 6);
    }
  });

  it("fades as the light of its colour does on the way (Beer and Lambert)", () => {
    // On the line, a pulse long against its width: what is left is e^(−αz), α = 2·2π r_e c N f/γ.
    const thin = 2e14;
    const long = 4e-8;
    const faint = travelPulse(
      { medium: medium(thin), length: LENGTH, carrier: LINE, shape: "cut-gauss", duration: long },
      4,
      0,
      4 * long,
      1000,
    );
    const alpha = (4 * Math.PI * RE * C * thin * STRENGTH) / WIDTH;
    expect(alpha * LENGTH).toBeGreaterThan(0.1);
    const top = (k: number): number =>
      faint.intensity
        .subarray(k * faint.time.length, (k + 1) * faint.time.length)
        .reduce((a, b) => Math.max(a, b), 0);
    for (const k of [2, 4]) expect(Math.log(top(k) / top(0)) / ((-alpha * LENGTH * k) / 4)).toBeCloseTo(1, 2);
  });
});
