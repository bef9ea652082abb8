/** Numbers as the page writes them: through the house's own format, with the page's choice of digits. */
import { formatQuantity } from "../../quantity/index.ts";

const NARROW = "\u202f";

/** Wavelength in nm with its medium said: "457.11 nm air". */
export function nanometres(metres: number, digits = 2): string {
  return `${(metres * 1e9).toFixed(digits)}${NARROW}nm`;
}

/** Number with a fixed count of significant digits, trailing zeros kept, powers of ten where they read better. */
export function significant(value: number, digits = 3): string {
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size >= 1e5 || size < 1e-3) {
    const [mantissa = "", exponent = "0"] = value.toExponential(digits - 1).split("e");
    return `${minus(mantissa)}${NARROW}×${NARROW}10^${minus(String(Number(exponent)))}`;
  }
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
  return minus(value.toFixed(Math.min(decimals, 12)));
}

/** Real minus sign instead of the hyphen. */
export function minus(text: string): string {
  return text.replace(/^-/, "\u2212");
}

/** Milliradians with the direction in words: "0.39 mrad down". */
export function bend(radians: number): string {
  const mrad = Math.abs(radians) * 1e3;
  const text = mrad < 0.995e-3 ? "0.00" : mrad < 10 ? mrad.toFixed(mrad < 0.1 ? 3 : 2) : mrad.toFixed(1);
  return `${text}${NARROW}mrad ${radians < 0 ? "down" : "up"}`;
}

/** Share as per cent: "96 %", with one decimal below 10 %. */
export function percent(share: number): string {
  const value = share * 100;
  return `${value < 10 && value >= 0.05 ? value.toFixed(1) : value.toFixed(0)}${NARROW}%`;
}

/** SI number with a unit, three digits. */
export function quantity(value: number, unit: string, as?: string): string {
  return formatQuantity(value, unit, as === undefined ? { digits: 3 } : { digits: 3, as });
}

/** The same text to be spoken: powers in words, no typographic spaces. */
export function spoken(text: string): string {
  return text
    .replaceAll(NARROW, " ")
    .replace(/10\^([\u2212-]?\d+)/g, (_, power: string) => `10 to the ${power.replace("\u2212", "minus ")}`)
    .replaceAll("×", "times")
    .replaceAll("\u2212", "minus ")
    .replaceAll(/ {2,}/g, " ");
}
