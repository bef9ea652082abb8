/**
 * Conductivity, heat capacity and density of solids and coolants in data/materials.json, and the slope of water's index
 * with temperature, against sources other than the ones they were entered from.
 *
 * Maker's sheet 304: stainless steel 304, document 416534641 of scribd.com (looked up): 16.2 W/(m K) from 0 to 100 °C,
 * 21.5 W/(m K) at 500 °C, 500 J/(kg K) from 0 to 100 °C, 8.0 g/cm³.
 * Mechanical Engineers' Handbook, vol. 4, table 1 of "Heat-Transfer Fundamentals" (looked up, page 161 of a scanned copy):
 * copper 379 W/(m K) and 417 J/(kg K), aluminium 231 W/(m K) and 1033 J/(kg K), both at 600 K.
 * Fused quartz, radial flow, 235 K to 1225 K (abstract looked up, scilit.com f2acc54d…): K = 3.83e-6 T + 0.00163 in
 * cal/(cm s K).
 * Fused silica, embedded wire, 300 K to 2100 K (abstract looked up, scilit.net 07363cd6…): 2.6e-3 to 2.9e-3 cal/(cm s K) at room
 * temperature.
 * Callister & Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed., table B.8 (looked up): fused silica
 * 740 J/(kg K).
 * Maker's sheet of borosilicate 3.3 (tgi-glas.com, looked up): 1.2 W/(m K) mean of 20 °C to 100 °C, 2.23 g/cm³.
 * Mills, Recommended Values of Thermophysical Properties for Selected Commercial Alloys (2002), as fitted in MOOSE,
 * ThermalSS316Properties.C (looked up): λ = −7.301e-6 T² + 0.02716 T + 6.308, stated to 10 %; c = 0.1816 T + 428.46, to 5 %;
 * ρ = −4.454e-5 T² − 0.4297 T + 8089.4, to 3 %.
 * CRC Handbook of Chemistry and Physics, page 12-205 (looked up): vitreous silica 1.40 W/(m K) at 50 °C, 1.50 at 100 °C.
 * Quartz glass, askwikinow.com (looked up): mean 1052 J/(kg K) from 0 °C to 900 °C.
 * Board of the same fibre (Kaowool PM, data of a fire laboratory in a public repository, looked up), 256 kg/m³:
 * 0.0576, 0.0850 and 0.125 W/(m K) at 260, 538 and 816 °C: denser fibre passes less, and its law of temperature is alike.
 * Sonntag, Borgnakke & Van Wylen, Fundamentals of Thermodynamics (amesweb.info, looked up): water 4.18 kJ/(kg K) at 25 °C,
 * unused engine oil 1.88, 2.05 and 2.22 at 20, 60 and 100 °C.
 * Schiebener, Straub, Levelt Sengers & Gallagher, J. Phys. Chem. Ref. Data 19, 677 (1990), table in Weber's Handbook of
 * Optical Materials (looked up): water at 589 nm 1.33408, 1.33336 and 1.33230 at 10, 20 and 30 °C.
 * makeitfrom.com, brass C26000-like tin brass C42200 (looked up): 130 W/(m K), 380 J/(kg K), 8.6 g/cm³.
 */
import { describe, expect, it } from "vitest";
import { solventIndex } from "../../src/medium/solvent.ts";
import { coolant, insulationMaterial, tabulated, tubeMaterial } from "../../src/vessel/materials.ts";

const CALORIE = 4.184;

const conductivity = (id: string, t: number): number =>
  tabulated(tubeMaterial(id), tubeMaterial(id).conductivity, t);
const heatCapacity = (id: string, t: number): number =>
  tabulated(tubeMaterial(id), tubeMaterial(id).heat_capacity, t);

describe("solids", () => {
  it.each([
    // material, temperature in K, conductivity in W/(m K), within
    ["steel-304", 323, 16.2, 0.06],
    ["steel-304", 773, 21.5, 0.04],
    ["copper", 600, 379, 0.01],
    ["aluminium", 600, 231, 0.01],
    ["borosilicate", 333, 1.2, 0.04],
    ["fused-silica", 300, 2.75e-3 * 100 * CALORIE, 0.21],
    ["fused-silica", 600, (3.83e-6 * 600 + 0.00163) * 100 * CALORIE, 0.1],
    ["fused-silica", 323, 1.4, 0.02],
    ["fused-silica", 373, 1.5, 0.02],
    ["steel-316", 300, -7.301e-6 * 300 ** 2 + 0.02716 * 300 + 6.308, 0.1],
    ["steel-316", 600, -7.301e-6 * 600 ** 2 + 0.02716 * 600 + 6.308, 0.1],
    ["steel-316", 1000, -7.301e-6 * 1000 ** 2 + 0.02716 * 1000 + 6.308, 0.1],
    ["brass", 300, 130, 0.2],
  ])("%s at %f K conducts %f W/(m K), within %f", (id, t, expected, within) => {
    expect(Math.abs(conductivity(id, t) / expected - 1)).toBeLessThan(within);
  });

  it.each([
    ["steel-304", 323, 500, 0.04],
    ["copper", 600, 417, 0.01],
    ["aluminium", 600, 1033, 0.01],
    ["fused-silica", 300, 740, 0.02],
    ["steel-316", 300, 0.1816 * 300 + 428.46, 0.05],
    ["steel-316", 800, 0.1816 * 800 + 428.46, 0.05],
    ["brass", 300, 380, 0.02],
  ])("%s at %f K holds %f J/(kg K), within %f", (id, t, expected, within) => {
    expect(Math.abs(heatCapacity(id, t) / expected - 1)).toBeLessThan(within);
  });

  it("have the densities of makers' sheets within 2 %", () => {
    expect(Math.abs(tubeMaterial("steel-304").density / 8000 - 1)).toBeLessThan(0.02);
    expect(Math.abs(tubeMaterial("borosilicate").density / 2230 - 1)).toBeLessThan(0.001);
    expect(Math.abs(tubeMaterial("brass").density / 8600 - 1)).toBeLessThan(0.02);
  });

  it("quartz glass holds its stated mean from 0 °C to 900 °C within 2 %", () => {
    let sum = 0;
    for (let t = 0; t < 900; t++) sum += heatCapacity("fused-silica", 273.65 + t);
    expect(Math.abs(sum / 900 / 1052 - 1)).toBeLessThan(0.02);
  });

  it("ceramic fibre passes more than the denser board, and rises as it does", () => {
    const { temperature, conductivity: values } = insulationMaterial("ceramic-fibre");
    const blanket = (celsius: number): number => tabulated({ temperature }, values, celsius + 273.15);
    expect(blanket(260) / 0.0576).toBeGreaterThan(1);
    expect(blanket(260) / 0.0576).toBeLessThan(1.6);
    expect(Math.abs(blanket(538) / blanket(260) / (0.085 / 0.0576) - 1)).toBeLessThan(0.3);
  });
});

describe("coolants", () => {
  it("water holds 4.18 kJ/(kg K), oil what unused engine oil holds between 20 °C and 100 °C", () => {
    expect(Math.abs(coolant("water").heat_capacity / 4180 - 1)).toBeLessThan(0.003);
    expect(coolant("oil").heat_capacity).toBeGreaterThan(1880);
    expect(coolant("oil").heat_capacity).toBeLessThan(2220);
  });
});

describe("solvents", () => {
  it("water's index falls from 10 °C to 20 °C and to 30 °C as measured, within 4e-4 of an index", () => {
    const index = (celsius: number): number => solventIndex("water", 273.15 + celsius).index(589e-9);
    for (const [celsius, measured] of [
      [10, 1.33408],
      [20, 1.33336],
      [30, 1.3323],
    ])
      expect(Math.abs(index(celsius) - measured)).toBeLessThan(4e-4);
    expect(Math.abs((index(30) - index(20)) / (1.3323 - 1.33336) - 1)).toBeLessThan(0.1);
  });
});
