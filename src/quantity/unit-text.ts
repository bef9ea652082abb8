/**
 * Reads a unit expression: "m-3", "MHz/Torr", "W/(m2.K)", "/mm", "m⁻³", "K mm", "kg·m/s^2".
 * Grammar: UCUM's (dot for product, slash for quotient from left to right, trailing integer for a power, parentheses),
 * with space, "·", "×" and "*" as further products, "^" or "**" or superscript digits for powers.
 */
import type { Dimension } from "./dimension.ts";
import { combine, DIMENSIONLESS } from "./dimension.ts";
import { findUnit } from "./units.ts";

/** value in SI = number · coefficient · 10^power + offset */
export interface ParsedUnit {
  readonly dimension: Dimension;
  readonly coefficient: number;
  readonly power: number;
  readonly offset: number;
}

/** What could not be read: an unknown symbol, or a form that is no unit at all. */
export class UnitFault extends Error {
  readonly symbol: string | undefined;

  constructor(message: string, symbol?: string) {
    super(message);
    this.name = "UnitFault";
    this.symbol = symbol;
  }
}

const PLAIN_POWER: Readonly<Record<string, string>> = Object.fromEntries(
  Array.from("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻").map((c, i) => [c, "0123456789+-"[i]]),
);

/** Superscript powers as "^-3", other minus signs and spaces as the ASCII ones. */
export function plainText(text: string): string {
  return text
    .replace(/[⁺⁻]?[⁰¹²³⁴-⁹]+/g, (power) => `^${Array.from(power, (c) => PLAIN_POWER[c]).join("")}`)
    .replace(/[−‐‑–]/g, "-")
    .replace(/[\u00a0\u2000-\u200a\u202f\u205f\u3000]/g, " ")
    .trim();
}

const SYMBOL = /^(?:1(?=\s*(?:\/|$))|%|‰|[A-Za-zµμÅΩ°′″℃'[][A-Za-zµμÅΩ°′″℃'[\]_]*)/;
const EXPONENT = /^(?:\^|\*\*)?([+-]?\d+)/;

class Reader {
  private rest: string;

  constructor(text: string) {
    this.rest = text;
  }

  whole(): ParsedUnit {
    const unit = this.product();
    if (this.rest !== "") throw new UnitFault(`"${this.rest}" is left over`);
    return unit;
  }

  private product(): ParsedUnit {
    let result: ParsedUnit = { dimension: DIMENSIONLESS, coefficient: 1, power: 0, offset: 0 };
    let factors = 0;
    for (;;) {
      const joint = /^\s*(?:([/])|[.·×*]|(?=[^)\s]))\s*/.exec(this.rest);
      if (joint === null) break;
      this.rest = this.rest.slice(joint[0].length);
      const sign = joint[1] === "/" ? -1 : 1;
      const factor = this.factor();
      factors += 1;
      result = {
        dimension: combine(result.dimension, factor.dimension, sign),
        coefficient:
          sign === 1 ? result.coefficient * factor.coefficient : result.coefficient / factor.coefficient,
        power: result.power + sign * factor.power,
        // A zero of scale means something only for a temperature that stands alone.
        offset: factors === 1 && sign === 1 ? factor.offset : 0,
      };
    }
    if (factors === 0) throw new UnitFault("a unit is missing");
    this.rest = this.rest.trimStart();
    return result;
  }

  private factor(): ParsedUnit {
    const base = this.base();
    const exponent = EXPONENT.exec(this.rest);
    if (exponent === null) return base;
    this.rest = this.rest.slice(exponent[0].length);
    const n = Number(exponent[1]);
    if (n === 0 || Math.abs(n) > 9) throw new UnitFault(`the power ${n} is out of range`);
    return {
      dimension: combine(DIMENSIONLESS, base.dimension, n),
      coefficient: wholePower(base.coefficient, n),
      power: base.power * n,
      offset: n === 1 ? base.offset : 0,
    };
  }

  private base(): ParsedUnit {
    if (this.rest.startsWith("(")) {
      this.rest = this.rest.slice(1);
      const inner = this.product();
      if (!this.rest.startsWith(")")) throw new UnitFault("a closing parenthesis is missing");
      this.rest = this.rest.slice(1);
      return { ...inner, offset: 0 };
    }
    const match = SYMBOL.exec(this.rest);
    if (match === null) throw new UnitFault(`"${this.rest}" is no unit`);
    const symbol = match[0];
    const definition = findUnit(symbol);
    if (definition === undefined) throw new UnitFault(`the unit "${symbol}" is unknown`, symbol);
    this.rest = this.rest.slice(symbol.length);
    const { dimension, coefficient, power, offset } = definition;
    return { dimension, coefficient, power, offset: offset ?? 0 };
  }
}

/** The unit expression as dimension and factor to SI; an empty text is the plain number 1. Throws `UnitFault`. */
export function parseUnit(text: string): ParsedUnit {
  const clean = plainText(text);
  if (clean === "") return { dimension: DIMENSIONLESS, coefficient: 1, power: 0, offset: 0 };
  return new Reader(clean).whole();
}

/** x to a whole power, by products alone: the same bits in every engine. */
function wholePower(x: number, n: number): number {
  let product = 1;
  for (let k = 0; k < Math.abs(n); k++) product *= x;
  return n < 0 ? 1 / product : product;
}
