/** SI number → text for people: a sensible prefix, a narrow no-break space, superscripts. `parse.ts` reads it back. */
import { scaleDecimal } from "./decimal.ts";
import { parseUnit } from "./unit-text.ts";
import { fromCoherent } from "./parse.ts";

export interface FormatOptions {
  /** significant digits, 1 to 17; default 4; "all" gives the shortest text that reads back to the same number */
  readonly digits?: number | "all";
  /** show in this unit, without choosing a prefix: a UCUM code or bench spelling such as "degC", "mbar", "nm" */
  readonly as?: string;
  /** ASCII only: ordinary space, "um" for µm, "m-3" for m⁻³, "e19" for ×10¹⁹; default false */
  readonly plain?: boolean;
}

const PREFIXES = ["f", "p", "n", "u", "m", "", "k", "M", "G", "T"] as const;
const UNITY = PREFIXES.indexOf("");
/** first factors that take a prefix; K and 1 stay bare */
const PREFIXABLE = /^(?:m|s|g|Pa|Hz|W|V|A|J|rad|Ohm|lx|mol|F|H|T|eV)(?![\w[-])/;
const SUPERSCRIPTS: Readonly<Record<string, string>> = Object.fromEntries(
  Array.from("0123456789-").map((plain, i) => [plain, "⁰¹²³⁴⁵⁶⁷⁸⁹⁻"[i]]),
);
const superscript = (text: string): string => text.replace(/[\d-]/g, (c) => SUPERSCRIPTS[c]);

/** UCUM code → the way a person writes it: "m-3" → "m⁻³", "Cel" → "°C", "um" → "µm", dots as "·". */
export function unitSymbol(unit: string): string {
  if (unit === "1") return "";
  return unit
    .replace(/\bdegC\b|\bCel\b/g, "°C")
    .replace(/\bdegF\b|\[degF\]/g, "°F")
    .replace(/\bOhm\b/g, "Ω")
    .replace(/\bdeg\b/g, "°")
    .replace(/\bAo\b/g, "Å")
    .replace(/\[(ppm|ppb)\]/g, "$1")
    .replace(/(?<![A-Za-z])u(?=(?:m|s|g|Pa|Hz|W|V|A|J|rad|bar|L|l|Torr)(?![A-Za-z]))/g, "µ")
    .replace(/([A-Za-zµΩÅ)])(-?\d+)/g, (_, symbol: string, power: string) => symbol + superscript(power))
    .replace(/^1\//, "/")
    .replace(/\./g, "·");
}

/** Shortest decimal digits of a number, rounded to `digits` significant ones. */
function rounded(value: number, digits: number | "all"): number {
  return digits === "all" ? value : Number(value.toPrecision(digits));
}

/** Digits of value · 10^shift, exactly: only the decimal point moves. */
function numberText(value: number, shift: number, plain: boolean): string {
  if (value === 0) return "0";
  const [mantissa, exponent] = Math.abs(value).toExponential().split("e") as [string, string];
  const power = Number(exponent) + shift;
  const minus = value < 0 ? (plain ? "-" : "−") : "";
  if (power < -3 || power >= 6) {
    return `${minus}${mantissa}${plain ? `e${power}` : `×10${superscript(String(power))}`}`;
  }
  const digits = mantissa.replace(".", "");
  if (power < 0) return `${minus}0.${"0".repeat(-power - 1)}${digits}`;
  const whole = digits.slice(0, power + 1).padEnd(power + 1, "0");
  const rest = digits.slice(power + 1);
  return minus + whole + (rest === "" ? "" : `.${rest}`);
}

/** Unit code with the prefix that leaves 1 ≤ |number| < 1000 where there is one, and the shift of the point for it. */
function withPrefix(value: number, unit: string): { shift: number; unit: string } {
  const code = unit === "kg" ? "g" : unit;
  const toBase = unit === "kg" ? 3 : 0;
  if (value === 0 || !PREFIXABLE.test(code)) return { shift: 0, unit };
  const step = Math.floor((Number(value.toExponential().split("e")[1]) + toBase) / 3);
  const prefix = PREFIXES[UNITY + step];
  if (prefix === undefined) return { shift: toBase, unit: code };
  return { shift: toBase - 3 * step, unit: prefix + code };
}

/**
 * Text of an SI number.
 *
 * @param value in `unit`, finite
 * @param unit SI-coherent UCUM code, e.g. "m", "K", "m-3", "Hz/Pa", "1"
 * @returns e.g. (0.025, "m") → "25 mm"; (1.3e-3, "rad") → "1.3 mrad"; (563.15, "K", {as: "degC"}) → "290 °C";
 *   (2.5e19, "m-3") → "2.5×10¹⁹ m⁻³". Number and unit stand a narrow no-break space (U+202F) apart.
 * @throws Error for a number that is not finite: such a result is a fault of the program
 */
export function formatQuantity(value: number, unit: string, options: FormatOptions = {}): string {
  if (!Number.isFinite(value)) throw new Error(`formatQuantity: ${value} ${unit} is not a finite number`);
  const { digits = 4, as, plain = false } = options;
  parseUnit(unit);
  // Round before the prefix is chosen, so that 999.99 µm becomes 1 mm and not 1000 µm.
  const number = rounded(as === undefined ? value : fromCoherent(value, as), digits);
  const shown = as === undefined ? withPrefix(number, unit) : { shift: 0, unit: as };
  const text = numberText(number, shown.shift, plain);
  const symbol = plain ? (shown.unit === "1" ? "" : shown.unit) : unitSymbol(shown.unit);
  if (symbol === "") return text;
  return `${text}${plain ? " " : "\u202f"}${symbol}`;
}

/**
 * Value with its standard uncertainty in the last two digits: (0.0250, 0.0012, "m") → "25.0(12) mm". An uncertainty of
 * 0 gives the value alone. `as` and `plain` as in `formatQuantity`.
 */
export function formatWithUncertainty(
  value: number,
  standardUncertainty: number,
  unit: string,
  options: Omit<FormatOptions, "digits"> = {},
): string {
  if (!(standardUncertainty > 0)) return formatQuantity(value, unit, options);
  const lead = Math.max(Math.abs(value), standardUncertainty);
  const shown = options.as ?? withPrefix(lead, unit).unit;
  const { coefficient, power } = parseUnit(shown);
  const inUnit = fromCoherent(value, shown);
  const errorInUnit = scaleDecimal(String(standardUncertainty / coefficient), -power);
  const size = Math.max(Math.abs(inUnit), errorInUnit);
  const head = size >= 1e6 || size < 1e-3 ? Number(size.toExponential().split("e")[1]) : 0;
  const mantissa = scaleDecimal(String(inUnit), -head);
  const error = scaleDecimal(String(errorInUnit), -head);
  const place = Number(error.toExponential(1).split("e")[1]) - 1;
  const atPlace = (x: number): number =>
    scaleDecimal(String(Math.round(scaleDecimal(String(x), -place))), place);
  const counts = place > 0 ? atPlace(error) : Math.round(scaleDecimal(String(error), -place));
  const plain = options.plain ?? false;
  const tens = head === 0 ? "" : plain ? `e${head}` : `×10${superscript(String(head))}`;
  const symbol = plain ? shown : unitSymbol(shown);
  const tail = shown === "1" ? "" : `${plain ? " " : "\u202f"}${symbol}`;
  return `${atPlace(mantissa).toFixed(Math.max(0, -place))}(${counts})${tens}${tail}`.replace(
    /^-/,
    plain ? "-" : "−",
  );
}
