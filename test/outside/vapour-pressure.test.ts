/**
 * Vapour pressures against figures quoted elsewhere: Steck's data sheets; CRC Handbook of Chemistry and Physics; Weller et
 * al. 2011. The equations are those of Alcock, Itkin & Horrigan, Can. Metall. Q. 23, 309 (1984).
 */
import { describe, expect, it } from "vitest";
import {
  meltingPoint,
  PRESSURE_CHOICES,
  saturatedDensity,
  saturation,
  saturationPressure,
} from "../../src/medium/index.ts";
import { ELEMENTS, TORR, VAPOUR_PRESSURES } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

const inTorr = (element: string, temperature: number) => saturationPressure(element, temperature) / TORR;

describe("data sheets", () => {
  checkPublished("vp-cs-25C", ({ inputs }) => inTorr("Cs", inputs["T_K"]));
  checkPublished("vp-rb-25C", ({ inputs }) => inTorr("Rb", inputs["T_K"]));
  checkPublished("vp-na-25C", ({ inputs }) => inTorr("Na", inputs["T_K"]));
  checkPublished("vp-cs-nesmeyanov", ({ inputs }) => saturationPressure("Cs", inputs["T_K"], "nesmeyanov"));
  checkPublished("N-na-500K", ({ inputs }) => saturatedDensity("Na", inputs["T_K"], "alcock-precise"));
  checkPublished("N-rb-443K", ({ inputs }) => saturatedDensity("Rb", inputs["T_K"]) * 1e-6);
});

describe("CRC Handbook", () => {
  for (const [id, element] of [
    ["vp-crc-na-10Pa", "Na"],
    ["vp-crc-na-100Pa", "Na"],
    ["vp-crc-cs-10Pa", "Cs"],
    ["vp-crc-rb-1Pa", "Rb"],
    ["vp-crc-sr-10Pa", "Sr"],
    ["vp-crc-zn-10Pa", "Zn"],
    ["vp-crc-cd-1Pa", "Cd"],
    ["vp-crc-hg-10Pa", "Hg"],
    ["vp-crc-tl-10Pa", "Tl"],
    ["vp-ba-liquid-warning", "Ba"],
  ] as const) {
    checkPublished(id, ({ inputs }) => saturationPressure(element, inputs["T_K"]));
  }

  it("its own table comes back at the tabulated points", () => {
    for (const { element, crc } of VAPOUR_PRESSURES) {
      crc.temperatures.forEach((temperature, k) => {
        expect(saturationPressure(element, temperature, "crc") / crc.pressures[k]).toBeCloseTo(1, 12);
      });
    }
  });
});

describe("every metal", () => {
  it("answers with every choice, rising with temperature, and says when it reaches beyond its range", () => {
    for (const element of ELEMENTS) {
      for (const choice of PRESSURE_CHOICES) {
        let before = 0;
        for (const temperature of [320, 450, 560, 700, 900, 1100, 1400]) {
          const { pressure, range, extrapolated } = saturation(element, temperature, choice);
          expect(pressure, `${element} ${choice} ${temperature} K`).toBeGreaterThan(before);
          before = pressure;
          if (range !== undefined)
            expect(extrapolated).toBe(temperature < range[0] || temperature > range[1]);
        }
      }
    }
  });

  it("practical and precise equations agree to 6 % inside the precise range (Alcock et al.: 5 % and 1 %)", () => {
    for (const { element, equations } of VAPOUR_PRESSURES) {
      for (const { id, temperatureMin, temperatureMax } of equations) {
        if (id !== "alcock-precise") continue;
        for (const share of [0.1, 0.5, 0.9]) {
          const temperature = temperatureMin! + share * (temperatureMax! - temperatureMin!);
          const ratio =
            saturationPressure(element, temperature, "alcock-precise") /
            saturationPressure(element, temperature);
          expect(Math.abs(ratio - 1), `${element} at ${temperature} K`).toBeLessThan(0.06);
        }
      }
    }
  });

  it("solid below, liquid above the melting point", () => {
    for (const element of ELEMENTS) {
      expect(saturation(element, meltingPoint(element) - 1).phase).toBe("solid");
      expect(saturation(element, meltingPoint(element) + 1).phase).toBe("liquid");
    }
  });
});
