/**
 * Heat transfer, gas properties and regimes against handbooks.
 *
 * Incropera: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, worked example on on
 * a cylinder in a wind tunnel (from memory).
 * Çengel & Ghajar, Heat and Mass Transfer, worked example on heat loss from hot-water pipes (natural convection,
 * Nu = 17.40), numbers looked up in a worked copy of it.
 * Perry: Perry's Chemical Engineers' Handbook correlations, values as tabulated in data/diffusion.json.
 * Lemmon & Jacobsen: Int. J. Thermophys. 25, 21 (2004), dilute gas, values as tabulated in data/diffusion.json:
 * independent of the correlation in use.
 * Onset of convection: computed here from the equations of linear stability; 1708 is the theoretical figure also in the
 * course notes hmf.enseeiht.fr/travaux/CD0001/travaux/optmfn/gpfmho/00-01/grp3/ra.htm.
 */
import { describe, expect, it } from "vitest";
import gases from "../../data/gases.json" with { type: "json" };
import diffusion from "../../data/diffusion.json" with { type: "json" };
import {
  gasProperties,
  conductivity,
  meanFreePath,
  pairDiffusion,
  rayleighNumber,
  viscosity,
} from "../../src/vessel/gas.ts";
import { blownAirCoefficient, stillAirCoefficient } from "../../src/vessel/shell-loss.ts";

describe("convection outside the tube", () => {
  it("a pipe of 80 mm at 70 °C in a room of 20 °C has h = 5.869 W/(m² K) and loses 443 W over 6 m (Çengel & Ghajar)", () => {
    // The room's own properties of air (k = 0.02699 W/(m K), Pr = 0.7241) differ from the correlations in use by 1 to 2 %.
    const h = stillAirCoefficient(0.08, 343.15, 293.15);
    expect(Math.abs(h / 5.869 - 1)).toBeLessThan(0.02);
    expect(Math.abs((h * Math.PI * 0.08 * 6 * 50) / 443 - 1)).toBeLessThan(0.02);
  });

  it("cross flow: cylinder of 12.7 mm at 128.4 °C in air of 26.2 °C at 10 m/s has h = 96 W/(m² K) (Incropera)", () => {
    expect(Math.abs(blownAirCoefficient(0.0127, 401.6, 299.4, 10) / 96 - 1)).toBeLessThan(0.03);
  });
});

describe("buffer gases", () => {
  it("viscosity agrees with the second source within 0.7 % (air 2.5 %), conductivity within 2.2 %, from 300 K to 800 K", () => {
    const rows = diffusion.gas_transport_table.filter((row) => "eta_LJ2004_uPa.s" in row);
    expect(rows.length).toBeGreaterThanOrEqual(12);
    for (const row of rows as {
      gas: string;
      T: number;
      "eta_LJ2004_uPa.s": number;
      "lambda_LJ2004_mW/(m.K)": number;
    }[]) {
      const gas = gasProperties(row.gas);
      expect(Math.abs((viscosity(gas, row.T) * 1e6) / row["eta_LJ2004_uPa.s"] - 1)).toBeLessThan(
        row.gas === "air" ? 0.025 : 0.007,
      );
      expect(Math.abs((conductivity(gas, row.T) * 1e3) / row["lambda_LJ2004_mW/(m.K)"] - 1)).toBeLessThan(
        0.022,
      );
    }
  });

  it("mean free path of air at 20 °C and one atmosphere is 65.4 nm (Jennings, J. Aerosol Sci. 19, 159 (1988); from memory)", () => {
    expect(Math.abs(meanFreePath(gasProperties("air"), 293.15, 101325) / 65.43e-9 - 1)).toBeLessThan(0.01);
  });

  it("Rb in N2 at 24 °C and one atmosphere diffuses with 0.132(7) cm²/s (Pouliot et al., arXiv:2602.12319)", () => {
    const pair = pairDiffusion("Rb", gasProperties("N2"));
    const d =
      pair.reference *
      (297.15 / pair.referenceTemperature) ** pair.exponent *
      (pair.referencePressure / 101325);
    expect(Math.abs(d - 0.132e-4)).toBeLessThan(0.007e-4);
  });

  it("Na in Ar: D p = 140 cm² Torr/s at 281 K", () => {
    const pair = pairDiffusion("Na", gasProperties("Ar"));
    expect(pair.kind).toBe("measured");
    expect((pair.reference * pair.referencePressure) / 133.32237 / 1e-4).toBeCloseTo(140, 1);
  });
});

describe("onset of convection", () => {
  it("sets in at the Rayleigh number that linear stability gives for a layer between rigid plates", () => {
    const { value } = gases.limits.rayleigh_onset;
    expect(Math.abs(layerOnset() - value)).toBeLessThan(0.5);
    expect(layerOnset()).toBeCloseTo(1707.762, 2);
  });

  // For a mean of 550 K and a difference of 250 K; the pressures were computed by a separate program to two figures.
  it.each([
    ["Ar", 25, 190],
    ["Ar", 40, 95],
    ["Ar", 60, 51],
    ["He", 25, 1560],
    ["He", 40, 770],
    ["He", 60, 420],
  ])("%s in a bore of %d mm turns over above about %d Torr", (gas, bore, torr) => {
    const at = rayleighNumber(gasProperties(gas), bore * 1e-3, torr * 133.32237, 675, 425, 9.80665);
    expect(Math.abs(Math.sqrt(at / 1708) - 1)).toBeLessThan(0.06);
  });
});

/**
 * Least Rayleigh number at which a layer between two rigid, conducting plates turns over: (D² − a²)³W = −Ra a² W with
 * W = DW = (D² − a²)²W = 0 at z = ±½, W even. Its solutions cosh qz have q² = a² + a²τ·(−1)^⅓, τ³ = Ra/a⁴: one is
 * cos(a√(τ−1) z), the other two are complex conjugates, of which real and imaginary part are taken.
 */
function layerOnset(): number {
  const misfit = (a: number, ra: number): number => {
    const tau = Math.cbrt(ra / a ** 4);
    const k = a * Math.sqrt(tau - 1);
    // q = u + iv with q² = a²(1 + τ/2 + iτ√3/2); cosh and sinh of q/2.
    const [re, im] = [a * a * (1 + tau / 2), (a * a * tau * Math.sqrt(3)) / 2];
    const u = Math.sqrt((Math.hypot(re, im) + re) / 2);
    const v = im / (2 * u);
    const cosh = [Math.cosh(u / 2) * Math.cos(v / 2), Math.sinh(u / 2) * Math.sin(v / 2)] as const;
    const sinh = [Math.sinh(u / 2) * Math.cos(v / 2), Math.cosh(u / 2) * Math.sin(v / 2)] as const;
    const slope = [u * sinh[0] - v * sinh[1], u * sinh[1] + v * sinh[0]] as const;
    // (q² − a²)² over (a²τ)²: 1 for the cosine, (½ + i√3/2)² = −½ + i√3/2 for the pair.
    const w = Math.sqrt(3) / 2;
    const third = [-cosh[0] / 2 - w * cosh[1], w * cosh[0] - cosh[1] / 2] as const;
    const [c, d] = [Math.cos(k / 2), -k * Math.sin(k / 2)];
    return (
      c * (slope[0] * third[1] - slope[1] * third[0]) -
      d * (cosh[0] * third[1] - cosh[1] * third[0]) +
      c * (cosh[0] * slope[1] - cosh[1] * slope[0])
    );
  };
  const onsetAt = (a: number): number => {
    let [low, high] = [1000, 2500];
    const sign = Math.sign(misfit(a, low));
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (Math.sign(misfit(a, middle)) === sign) low = middle;
      else high = middle;
    }
    return low;
  };
  return Math.min(...Array.from({ length: 201 }, (_, i) => onsetAt(2.6 + i / 200)));
}
