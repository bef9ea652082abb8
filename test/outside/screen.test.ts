/**
 * Light on a screen and what an eye tells apart there.
 *  - Luminance of matt screens: a screen of 61 ft² wants 2440 lumens for 40 foot-lamberts, and 16 foot-lamberts are 55 cd/m²
 *    (idetic.co.za, Is bigger better). One foot is 0.3048 m.
 *  - Light of a spectrum on a screen, independent here: Planck's law and the CIE's y typed in, étendue of slit and beam, and
 *    losses by hand; Abney's way of reckoning, no code of the program.
 *  - Acuity and light: over 40 to 600 cd/m² a doubling of the luminance gains about one letter of a five-letter row, 0.02 in
 *    the logarithm (Sheedy, Bailey and Raasch, Am. J. Optom. 61 (1984) 595, abstract); with rings of 95 % contrast on
 *    3000 cd/m² fourteen people reached -0.47 on average (Hilmers and others, Transl. Vis. Sci. Tech. 11 (2022) 12,
 *    abstract).
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { spectralMap } from "../../src/path/index.ts";
import { acuityAt, screenLuminance, screenView } from "../../src/plan/index.ts";
import { overrideSetup, parseJsonObject, parseSetup } from "../../src/setup/index.ts";

const FOOT = 0.3048;

describe("luminance of a screen", () => {
  it("40 foot-lamberts by 2440 lumens on 61 square feet; 16 are 55 cd/m²", () => {
    const footLambert = (1 / Math.PI) * (1 / FOOT ** 2);
    expect(screenLuminance(2440 / (61 * FOOT ** 2)) / footLambert).toBeCloseTo(40, 2);
    expect(screenLuminance(16 / FOOT ** 2)).toBeCloseTo(55, 0);
  });

  it("of a carbon arc's yellow through slits of 0.4 mm and 0.2 mm on a spectrum 0.3 m wide", () => {
    const text = readFileSync(join(import.meta.dirname, "../../examples/sodium.json"), "utf8");
    const setup = parseSetup(
      overrideSetup(parseJsonObject(text, "sodium.json"), [
        "path.source.kind=carbon-arc",
        "path.source.temperature=3800 K",
        "path.levelSlit=400 um",
        "path.plumbSlit=200 um",
        // The setup's own allowance for dust and coatings is no part of the comparison.
        "path.otherLosses=0",
      ]),
    );
    const map = spectralMap(setup.path);
    const { path } = setup;
    const nm = 589.46;
    const view = screenView(setup, map, nm * 1e-9, { shows: "light", width: 0.3, distance: 5 });
    // By hand: radiance L, beam of beamSize × beamWidth at the lens F, slit image d wide on the screen spreading Δλ.
    const l = nm * 1e-9;
    const radiance =
      (2 * 6.62607015e-34 * 299792458 ** 2) /
      l ** 5 /
      Math.expm1((6.62607015e-34 * 299792458) / (l * 1.380649e-23 * 3800));
    const half = 0.05e-9;
    const perNm = (map.position(l + half) - map.position(l - half)) / (2 * half);
    const slit = 200e-6 * (path.cameraFocalLength / path.secondCollimatorFocalLength) * map.stretch;
    const flux = radiance * (slit / perNm) * ((path.beamSize * path.beamWidth) / path.focalLength ** 2);
    const sensor = flux / ((path.cameraFocalLength / path.secondCollimatorFocalLength) ** 2 * map.stretch);
    const lux = (683 * 0.7626 * sensor) / (0.3 / (setup.camera.columns * setup.camera.pixel)) ** 2;
    // ȳ(589.46 nm) = 0.763 between 0.8163 (585) and 0.7570 (590) of the CIE's table; glass and prism leave 30 to 65 %.
    expect(view.illuminance / lux).toBeGreaterThan(0.3);
    expect(view.illuminance / lux).toBeLessThan(0.65);
    expect(view.luminance).toBeCloseTo(view.illuminance / Math.PI, 12);
    // Four times as wide, a sixteenth of the light.
    const wide = screenView(setup, map, l, { shows: "light", width: 1.2, distance: 5 });
    expect(wide.luminance / view.luminance).toBeCloseTo(1 / 16, 9);
  });
});

describe("acuity", () => {
  it("gains about one letter in five for each doubling of the light", () => {
    const gain = Math.log10(acuityAt(600) / acuityAt(40)) / Math.log2(600 / 40);
    // One letter of five in a row of 0.1; rings are less exactly stated: a half more.
    expect(gain).toBeGreaterThan(0.018);
    expect(gain).toBeLessThan(0.032);
  });

  it("of rings at 95 % on 3000 cd/m² comes within 0.15 of what fourteen people showed", () => {
    expect(Math.abs(Math.log10(1 / acuityAt(3000, 95)) - -0.47)).toBeLessThan(0.15);
  });

  it("falls with the light and the contrast, and ends where nothing is seen", () => {
    expect(acuityAt(0.1)).toBeLessThan(0.5 * acuityAt(1));
    expect(acuityAt(1, 20)).toBeLessThan(acuityAt(1, 90));
    expect(acuityAt(1e-4)).toBe(0);
  });
});
