/**
 * The units a person may write: UCUM codes (the stored form) and the spellings of the bench beside them.
 * Definitions: UCUM 2.1 table of units; SI brochure (9th edition, 2019) for the exact eV; BIPM/NIST SP 811 for the
 * conventional millimetre of mercury (133.322387415 Pa; UCUM rounds it to 133.322 Pa) and Torr = atm/760.
 */
import type { Dimension } from "./dimension.ts";
import { DIMENSIONLESS } from "./dimension.ts";

/** value in SI = number · coefficient · 10^power (+ offset for a temperature that stands alone) */
export interface UnitDefinition {
  readonly dimension: Dimension;
  readonly coefficient: number;
  readonly power: number;
  /** SI prefixes may stand before it */
  readonly metric: boolean;
  /** zero of the scale, K: only Celsius and Fahrenheit */
  readonly offset?: number;
}

const d = (m = 0, kg = 0, s = 0, K = 0, A = 0, mol = 0, cd = 0, rad = 0): Dimension => [
  m,
  kg,
  s,
  K,
  A,
  mol,
  cd,
  rad,
];

const metric = (dimension: Dimension, power = 0, coefficient = 1): UnitDefinition => ({
  dimension,
  coefficient,
  power,
  metric: true,
});
const plain = (dimension: Dimension, coefficient: number, power = 0): UnitDefinition => ({
  dimension,
  coefficient,
  power,
  metric: false,
});

const LENGTH = d(1);
const TIME = d(0, 0, 1);
const ANGLE = d(0, 0, 0, 0, 0, 0, 0, 1);
const PRESSURE = d(-1, 1, -2);
const ENERGY = d(2, 1, -2);
const TEMPERATURE = d(0, 0, 0, 1);
const DEGREE = Math.PI / 180;

const UNITS: Readonly<Record<string, UnitDefinition>> = {
  "1": plain(DIMENSIONLESS, 1),
  m: metric(LENGTH),
  g: metric(d(0, 1), -3),
  s: metric(TIME),
  K: metric(TEMPERATURE),
  A: metric(d(0, 0, 0, 0, 1)),
  mol: metric(d(0, 0, 0, 0, 0, 1)),
  cd: metric(d(0, 0, 0, 0, 0, 0, 1)),
  rad: metric(ANGLE),
  sr: metric(d(0, 0, 0, 0, 0, 0, 0, 2)),
  Hz: metric(d(0, 0, -1)),
  N: metric(d(1, 1, -2)),
  Pa: metric(PRESSURE),
  J: metric(ENERGY),
  W: metric(d(2, 1, -3)),
  C: metric(d(0, 0, 1, 0, 1)),
  V: metric(d(2, 1, -3, 0, -1)),
  F: metric(d(-2, -1, 4, 0, 2)),
  Ohm: metric(d(2, 1, -3, 0, -2)),
  S: metric(d(-2, -1, 3, 0, 2)),
  T: metric(d(0, 1, -2, 0, -1)),
  Wb: metric(d(2, 1, -2, 0, -1)),
  H: metric(d(2, 1, -2, 0, -2)),
  lm: metric(d(0, 0, 0, 0, 0, 0, 1, 2)),
  lx: metric(d(-2, 0, 0, 0, 0, 0, 1, 2)),
  L: metric(d(3), -3),
  l: metric(d(3), -3),
  t: metric(d(0, 1), 3),
  bar: metric(PRESSURE, 5),
  Torr: metric(PRESSURE, 0, 101325 / 760),
  "m[Hg]": metric(PRESSURE, 3, 133.322387415),
  atm: plain(PRESSURE, 101325),
  "[psi]": plain(PRESSURE, 6894.757293168361),
  dyn: metric(d(1, 1, -2), -5),
  erg: metric(ENERGY, -7),
  G: metric(d(0, 1, -2, 0, -1), -4),
  P: metric(d(-1, 1, -1), -1),
  eV: metric(ENERGY, -19, 1.602176634),
  // CODATA 2022, as in data/constants.json; a test holds the two together.
  u: plain(d(0, 1), 1.66053906892, -27),
  min: plain(TIME, 60),
  h: plain(TIME, 3600),
  d: plain(TIME, 86400),
  wk: plain(TIME, 604800),
  a: plain(TIME, 31557600),
  deg: plain(ANGLE, DEGREE),
  "'": plain(ANGLE, DEGREE / 60),
  "''": plain(ANGLE, DEGREE / 3600),
  Ao: plain(LENGTH, 1, -10),
  "[in_i]": plain(LENGTH, 2.54, -2),
  "[ft_i]": plain(LENGTH, 0.3048),
  "%": plain(DIMENSIONLESS, 1, -2),
  "[ppth]": plain(DIMENSIONLESS, 1, -3),
  "[ppm]": plain(DIMENSIONLESS, 1, -6),
  "[ppb]": plain(DIMENSIONLESS, 1, -9),
  Cel: { dimension: TEMPERATURE, coefficient: 1, power: 0, metric: false, offset: 273.15 },
  "[degF]": { dimension: TEMPERATURE, coefficient: 5 / 9, power: 0, metric: false, offset: 459.67 * (5 / 9) },
};

/** Spellings of the bench → UCUM code. */
const ALIASES: Readonly<Record<string, string>> = {
  degC: "Cel",
  "°C": "Cel",
  "℃": "Cel",
  celsius: "Cel",
  Celsius: "Cel",
  degF: "[degF]",
  "°F": "[degF]",
  kelvin: "K",
  torr: "Torr",
  micron: "um",
  microns: "um",
  Å: "Ao",
  angstrom: "Ao",
  inch: "[in_i]",
  in: "[in_i]",
  ft: "[ft_i]",
  psi: "[psi]",
  mmHg: "mm[Hg]",
  Ω: "Ohm",
  ohm: "Ohm",
  "°": "deg",
  degree: "deg",
  degrees: "deg",
  "′": "'",
  arcmin: "'",
  "″": "''",
  arcsec: "''",
  percent: "%",
  "‰": "[ppth]",
  ppm: "[ppm]",
  ppb: "[ppb]",
  sec: "s",
  hour: "h",
  hours: "h",
  hr: "h",
  day: "d",
  days: "d",
  year: "a",
};

/** SI prefixes as powers of ten; "u" and both Unicode micro signs. */
const PREFIXES: Readonly<Record<string, number>> = {
  Y: 24,
  Z: 21,
  E: 18,
  P: 15,
  T: 12,
  G: 9,
  M: 6,
  k: 3,
  h: 2,
  da: 1,
  d: -1,
  c: -2,
  m: -3,
  u: -6,
  µ: -6,
  μ: -6,
  n: -9,
  p: -12,
  f: -15,
  a: -18,
  z: -21,
  y: -24,
};

const own = <T>(table: Readonly<Record<string, T>>, key: string): T | undefined =>
  Object.hasOwn(table, key) ? table[key] : undefined;

/** The definition behind one unit symbol with or without prefix; undefined when unknown. Whole names win over prefixes. */
export function findUnit(symbol: string): UnitDefinition | undefined {
  const code = own(ALIASES, symbol) ?? symbol;
  const whole = own(UNITS, code);
  if (whole !== undefined) return whole;
  for (const length of [1, 2]) {
    const power = own(PREFIXES, code.slice(0, length));
    const rest = code.slice(length);
    const base = own(UNITS, own(ALIASES, rest) ?? rest);
    if (power !== undefined && base?.metric === true) return { ...base, power: base.power + power };
  }
  return undefined;
}

/** Everyday symbols that a misspelt one is compared with. */
const EVERYDAY = [
  ..."m mm cm um nm pm km s ms us ns min h g mg kg K degC Cel Pa hPa kPa MPa bar mbar Torr mTorr atm".split(
    " ",
  ),
  ..."rad mrad urad deg Hz kHz MHz GHz THz W mW kW V mV kV A mA J eV meV % L mL ohm lx mol".split(" "),
];

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, swap));
    }
    row = next;
  }
  return row[b.length];
}

/** The known unit nearest to a misspelt one (same letters in other case first, then at most two edits), or undefined. */
export function nearestUnit(symbol: string): string | undefined {
  const sameLetters = EVERYDAY.find((known) => known.toLowerCase() === symbol.toLowerCase());
  if (sameLetters !== undefined) return sameLetters;
  let best: string | undefined;
  let bestDistance = symbol.length <= 3 ? 2 : 3;
  for (const known of EVERYDAY) {
    const distance = editDistance(symbol.toLowerCase(), known.toLowerCase());
    if (distance < bestDistance && distance < known.length) {
      best = known;
      bestDistance = distance;
    }
  }
  return best;
}
