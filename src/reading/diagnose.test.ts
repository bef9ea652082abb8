import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { type CaseOfDay, faultyDays, goodDays } from "../../bench/campaign/diagnose/days.ts";
import { drawDay, nominalOf } from "../../bench/campaign/diagnose/draw.ts";
import { CAUSE_CODES, CAUSES, diagnose } from "./index.ts";

// A seeded sample of the campaign bench/campaign/diagnose.ts; docs/diagnose.md holds the whole.
const nominal = nominalOf(benchSetup());
const named = (day: CaseOfDay) => {
  const input = drawDay(nominal, day);
  return { input, ...diagnose(input, nominal.vapour) };
};

describe("diagnose", () => {
  it.each(faultyDays(1, 42).filter((day) => day.degree === "strong"))(
    "names $cause",
    (day) => {
      const { causes, input } = named(day);
      const [first] = causes;
      expect([first.cause, ...(first.group?.members ?? [])]).toContain(day.cause);
      expect(causes.reduce((sum, c) => sum + c.weight, 0)).toBeCloseTo(1, 9);
      for (const cause of causes) {
        expect(CAUSE_CODES).toContain(cause.cause);
        expect(cause.remedy).toBe(CAUSES[cause.cause].remedy);
        expect(cause.evidence).toMatch(/\w{4}/);
        if (cause.where === undefined) continue;
        const { columns, rows } = cause.where;
        expect(columns[0]).toBeGreaterThanOrEqual(0);
        expect(columns[1]).toBeLessThan(input.hot.columns);
        expect(rows[0]).toBeLessThanOrEqual(rows[1]);
        expect(rows[1]).toBeLessThan(input.hot.rows);
      }
    },
    180_000,
  );

  it("says so where nothing is wrong", () => {
    for (const day of goodDays(2, 7)) expect(named(day).causes[0].cause).toBe("as-predicted");
  }, 180_000);

  it("points at the pixels: saturated ones of an overexposed picture, the line of a drift", () => {
    const days = faultyDays(1, 42).filter((day) => day.degree === "strong");
    const of = (cause: string) => named(days.find((day) => day.cause === cause)!);
    const over = of("overexposed");
    const where = over.causes[0].where!;
    const { columns, samples } = over.input.hot;
    let outside = 0;
    for (let i = 0; i < samples.length; i++) {
      const [c, r] = [i % columns, Math.floor(i / columns)];
      const inside =
        c >= where.columns[0] && c <= where.columns[1] && r >= where.rows[0] && r <= where.rows[1];
      if (!inside && samples[i] === 65535) outside++;
    }
    expect(outside).toBe(0);
    expect(of("line-drifted").causes[0].where?.frame).toBe("cold");
  }, 180_000);

  it("without a lamp, a picture without gaps may be of a cold tube or of other wavelengths", () => {
    const day = faultyDays(3, 42).find((d) => d.cause === "tube-cold" && d.day.empty)!;
    const alone = diagnose(
      { ...drawDay(nominal, { ...day, day: { ...day.day, lamp: false } }) },
      nominal.vapour,
    );
    expect(alone.causes[0].cause).toBe("tube-cold");
    expect(alone.causes[0].group?.members).toContain("wrong-lines");
    const sure = diagnose(drawDay(nominal, { ...day, day: { ...day.day, lamp: true } }), nominal.vapour);
    expect(sure.causes.map((c) => c.cause)).toEqual(["tube-cold"]);
  }, 180_000);

  it("every code has its words", () => {
    for (const code of CAUSE_CODES) {
      expect(CAUSES[code].title.length).toBeGreaterThan(3);
      expect(CAUSES[code].remedy.length).toBeGreaterThan(10);
    }
  });
});
