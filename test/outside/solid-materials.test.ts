/**
 * Conductivity, heat capacity and density of solids in data/materials.json against sources other than the ones they were
 * entered from.
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
 * makeitfrom.com, brass C26000-like tin brass C42200 (looked up): 130 W/(m K), 380 J/(kg K), 8.6 g/cm³.
 */
import { describe, expect, it } from "vitest";
import { tabulated, tubeMaterial } from "../../src/vessel/materials.ts";

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
    ["brass", 300, 130, 0.2],
  ])("%s at %f K conducts %f W/(m K), within %f", (id, t, expected, within) => {
    expect(Math.abs(conductivity(id, t) / expected - 1)).toBeLessThan(within);
  });

  it.each([
    ["steel-304", 323, 500, 0.04],
    ["copper", 600, 417, 0.01],
    ["aluminium", 600, 1033, 0.01],
    ["fused-silica", 300, 740, 0.02],
    ["brass", 300, 380, 0.02],
  ])("%s at %f K holds %f J/(kg K), within %f", (id, t, expected, within) => {
    expect(Math.abs(heatCapacity(id, t) / expected - 1)).toBeLessThan(within);
  });

  it("have the densities of makers' sheets within 2 %", () => {
    expect(Math.abs(tubeMaterial("steel-304").density / 8000 - 1)).toBeLessThan(0.02);
    expect(Math.abs(tubeMaterial("borosilicate").density / 2230 - 1)).toBeLessThan(0.001);
    expect(Math.abs(tubeMaterial("brass").density / 8600 - 1)).toBeLessThan(0.02);
  });
});
