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
 */
import { describe, expect, it } from "vitest";
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
  // A layer heated from below turns over at Ra = 1708 (Chandrasekhar 1961; from memory). The pressures are a
  // practitioner's table for a mean of 550 K and a difference of 250 K, computed independently to two figures.
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
