/** Numbers and times as people of a country write them, by Intl. */
import { Refusal } from "../quantity/index.ts";

export interface Numbers {
  /** language tag (BCP 47) */
  readonly locale: string;
  /** what parts whole from decimals, for ticks that are written already */
  readonly decimalSign: string;
  /** with so many decimals, none grouped */
  readonly fixed: (value: number, decimals: number) => string;
  /** with so many significant digits, grouped as usual there, without powers of ten */
  readonly plain: (value: number, digits: number) => string;
  /** with so many significant digits, as HTML; from a million up and below a thousandth with a power of ten */
  readonly html: (value: number, digits?: number) => string;
  /** with so many significant digits, as text: a power of ten as "× 10^−6" below a thousandth and from 10⁵ up */
  readonly text: (value: number, digits?: number) => string;
  /** a share as per cent, one decimal below ten */
  readonly percent: (share: number) => string;
  /** day and minute in UTC of an ISO time */
  readonly moment: (iso: string) => string;
}

/** Used where nothing else is asked for. */
export const DEFAULT_LOCALE = "en-GB";
const NARROW = "\u202f";

/** @throws Refusal naming `field` where the tag is none */
export function numbersFor(tag: string, field = "locale"): Numbers {
  const locale = known(tag, field);
  const write = (value: number, options: Intl.NumberFormatOptions): string =>
    new Intl.NumberFormat(locale, options).format(value === 0 ? 0 : value).replace("-", "\u2212");
  const fixed = (value: number, decimals: number): string =>
    write(value, { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false });
  const plain = (value: number, digits: number, useGrouping = true): string =>
    write(value, { minimumSignificantDigits: digits, maximumSignificantDigits: digits, useGrouping });
  return {
    locale,
    decimalSign: fixed(0.5, 1).slice(1, -1),
    fixed,
    plain,
    html(value, digits = 4) {
      if (value === 0) return write(0, {});
      const size = Math.abs(value);
      if (size >= 1e-3 && size < 1e6) return plain(value, digits);
      const { lead, power } = parted(value, digits);
      return `${plain(lead, digits)} × 10<sup>${write(power, {})}</sup>`;
    },
    text(value, digits = 3) {
      if (value === 0) return write(0, {});
      const size = Math.abs(value);
      if (size >= 1e-3 && size < 1e5) return plain(value, digits, false);
      const { lead, power } = parted(value, digits);
      return `${plain(lead, digits)}${NARROW}×${NARROW}10^${write(power, {})}`;
    },
    percent(share) {
      const value = share * 100;
      return `${fixed(value, value < 10 && value >= 0.05 ? 1 : 0)}${NARROW}%`;
    },
    moment(iso) {
      const time = new Intl.DateTimeFormat(locale, {
        dateStyle: "medium",
        timeStyle: "short",
        timeZone: "UTC",
      });
      return `${time.format(new Date(iso))} UTC`;
    },
  };
}

/** Rounded to so many digits: 1 ≤ |lead| < 10. */
function parted(value: number, digits: number): { readonly lead: number; readonly power: number } {
  const [lead = "", power = ""] = value.toExponential(digits - 1).split("e");
  return { lead: Number(lead), power: Number(power) };
}

function known(tag: string, field: string): string {
  try {
    const [locale] = Intl.getCanonicalLocales(tag);
    if (locale !== undefined) return locale;
  } catch {
    // said below
  }
  throw new Refusal({
    code: "bad-locale",
    field,
    received: JSON.stringify(tag),
    expected: 'a language tag, such as "en-GB" or "de-DE"',
  });
}
