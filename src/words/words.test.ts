import { describe, expect, it } from "vitest";
import { BENCH, EXPLAIN, HANDOUT, METALS, REPORT } from "./en.ts";
import { ENGLISH, languageOf, numbersFor } from "./index.ts";
import { leftOver, pseudo } from "./testing/pseudo.ts";

const plain = (text: string): string => text.replaceAll(/[\u202f\u00a0]/g, " ");

describe("numbers and times", () => {
  const shown = (locale: string): readonly string[] => {
    const numbers = numbersFor(locale);
    return [
      numbers.fixed(-457.108, 2),
      numbers.plain(12345.6, 6),
      numbers.html(-3.7e-6, 3),
      numbers.text(1.3e22),
      numbers.percent(0.0123),
      numbers.moment("2026-11-25T21:05:00Z"),
    ].map(plain);
  };

  it("are written as people of a country write them", () => {
    expect(shown("en-GB")).toEqual([
      "−457.11",
      "12,345.6",
      "−3.70 × 10<sup>−6</sup>",
      "1.30 × 10^22",
      "1.2 %",
      "25 Nov 2026, 21:05 UTC",
    ]);
    expect(shown("de-DE")).toEqual([
      "−457,11",
      "12.345,6",
      "−3,70 × 10<sup>−6</sup>",
      "1,30 × 10^22",
      "1,2 %",
      "25.11.2026, 21:05 UTC",
    ]);
    expect(shown("en-US")[5]).toMatch(/^Nov 25, 2026, 9:05 PM UTC$/);
    expect([numbersFor("de-DE").decimalSign, numbersFor("en-GB").decimalSign]).toEqual([",", "."]);
  });

  it("carry a lead that rounds to ten over to the next power", () => {
    const { html, text } = numbersFor("en-GB");
    expect([html(9.9996e-5, 4), html(9.9996e6, 4), plain(text(9.996e7, 3)), html(0), text(0)]).toEqual([
      "1.000 × 10<sup>−4</sup>",
      "1.000 × 10<sup>7</sup>",
      "1.00 × 10^8",
      "0",
      "0",
    ]);
  });

  it("refuse a tag that is none", () => {
    expect(() => numbersFor("no such tag", "--locale")).toThrow(
      /^--locale: expected a language tag, such as "en-GB" or "de-DE", received "no such tag"\.$/,
    );
  });
});

describe("languages", () => {
  it("are English where there is no file", () => {
    expect([languageOf("de-DE"), languageOf("en-US")]).toEqual([ENGLISH, ENGLISH]);
  });

  it("leave no Latin letter in the strange one, and pass on what they are given", () => {
    const texts: string[] = [];
    const gather = (value: unknown): void => {
      if (typeof value === "string") texts.push(value);
      else if (typeof value === "function")
        texts.push(
          (value as (...all: unknown[]) => string)(...Array.from({ length: value.length }, () => "7")),
        );
      else for (const each of Object.values(value as object)) gather(each);
    };
    gather(pseudo({ BENCH, EXPLAIN, HANDOUT, METALS, REPORT }));
    expect(texts.length).toBeGreaterThan(150);
    expect(leftOver(texts, [])).toEqual([]);
    expect(pseudo(REPORT).title("old words")).toContain("“old words”");
  });
});
