/** What a field of a given unit wants, in words: completes the sentence "expected …". */
import { dimensionCode } from "./dimension.ts";
import { parseUnit } from "./unit-text.ts";

/** SI unit code → kind and example. */
const KINDS: ReadonlyArray<readonly [unit: string, words: string]> = [
  ["1", 'a plain number such as "0.2" or "20 %"'],
  ["m", 'a length such as "25 mm"'],
  ["m2", 'an area such as "3 mm2"'],
  ["m3", 'a volume such as "40 mL"'],
  ["m-1", 'a number per length such as "1200 /mm"'],
  ["m-2", 'a column density such as "1e20 m-2"'],
  ["m-3", 'a number density such as "1e19 m-3"'],
  ["m-4", 'a density gradient such as "1e22 m-4"'],
  ["kg", 'a mass such as "5 g"'],
  ["kg/m3", 'a mass density such as "7.9 g/cm3"'],
  ["s", 'a time such as "20 ms"'],
  ["Hz", 'a frequency or rate such as "30 MHz"'],
  ["rad/s", 'an angular frequency such as "6e9 rad/s"'],
  ["K", 'a temperature such as "290 degC"'],
  ["K/m", 'a temperature gradient such as "3 K/mm"'],
  ["K/s", 'a heating rate such as "5 K/min"'],
  ["rad", 'an angle such as "85 mrad"'],
  ["Pa", 'a pressure such as "3 mbar"'],
  ["Hz/Pa", 'a width per pressure such as "30 MHz/Torr"'],
  ["Hz.m3", 'a width per density such as "1e-7 Hz.cm3"'],
  ["m/s", 'a speed such as "0.5 m/s"'],
  ["m2/s", 'a diffusion coefficient such as "0.5 cm2/s"'],
  ["J", 'an energy such as "2.1 eV"'],
  ["W", 'a power such as "600 W"'],
  ["W/m2", 'a power per area such as "2 kW/m2"'],
  ["W/(m.K)", 'a heat conductivity such as "15 W/(m.K)"'],
  ["W/(m2.K)", 'a heat transfer coefficient such as "10 W/(m2.K)"'],
  ["J/(kg.K)", 'a specific heat such as "500 J/(kg.K)"'],
  ["V", 'a voltage such as "12 V"'],
  ["A", 'a current such as "5 A"'],
  ["Ohm", 'a resistance such as "50 ohm"'],
  ["lx", 'an illuminance such as "10 lx"'],
];

/** The words for a UCUM code, chosen by its dimension; a dimension without a name is described by the unit. */
export function expectationOf(unit: string): string {
  const code = dimensionCode(parseUnit(unit).dimension);
  const known = KINDS.find(([kind]) => dimensionCode(parseUnit(kind).dimension) === code);
  return known === undefined ? `a quantity in ${unit}` : known[1];
}
