/** Access to test/outside/published/checks.json: a value, its tolerance, and where it comes from. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";

interface PublishedCheck {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: number | readonly number[];
  readonly unit: string;
  readonly tolerance: { readonly abs?: number | readonly number[]; readonly rel?: number };
  readonly source: string;
  readonly origin: string;
}

const { entries } = JSON.parse(readFileSync(join(import.meta.dirname, "published/checks.json"), "utf8")) as {
  entries: readonly PublishedCheck[];
};

export function published(id: string): PublishedCheck {
  const found = entries.find((entry) => entry.id === id);
  if (found === undefined) throw new Error(`no published check ${id}`);
  return found;
}

const asList = (value: number | readonly number[]): readonly number[] =>
  typeof value === "number" ? [value] : value;

/**
 * One test: computes in the unit of the entry and compares within the published tolerance. The title names quantity,
 * source and whether the figure was seen in print or recalled.
 */
export function checkPublished(
  id: string,
  compute: (check: PublishedCheck) => number | readonly number[],
): void {
  const check = published(id);
  it(`${id}: ${check.quantity} (${check.source}; ${check.origin})`, () => {
    const got = asList(compute(check));
    const wanted = asList(check.value);
    expect(got).toHaveLength(wanted.length);
    const { abs, rel } = check.tolerance;
    wanted.forEach((value, i) => {
      const limit = abs === undefined ? rel! * Math.abs(value) : (asList(abs)[i] ?? asList(abs)[0]);
      // a tolerance of 0 means: the stored figure itself, to the rounding of a change of unit
      const rounding = 1e-13 * Math.abs(value);
      expect(Math.abs(got[i] - value), `${got[i]} ${check.unit} against ${value}`).toBeLessThanOrEqual(
        limit + rounding,
      );
    });
  });
}
