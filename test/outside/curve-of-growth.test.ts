/**
 * Equivalent widths: Spitzer, "Physical Processes in the Interstellar Medium" (1978); Mihalas, "Stellar Atmospheres"
 * (1978), values computed by the compilers of checks.json.
 */
import { describe } from "vitest";
import { curveOfGrowth, equivalentWidth } from "../../src/medium/index.ts";
import { checkPublished } from "./published-check.ts";

describe("weak line", () => {
  checkPublished("cog-linear-na", ({ inputs }) => {
    const state = { element: "Na", density: 1e12, temperature: 500 };
    // a thousandth of the column, so that the line is optically thin as the formula assumes
    const column = inputs["N_cm-2"] * 1e4;
    return (equivalentWidth(state, "NaI-589.16vac", column / 1000).width * 1000) / 1e-13;
  });
});

describe("curve of growth", () => {
  for (const id of ["cog-0.1", "cog-1", "cog-10", "cog-1000", "cog-1e+06"]) {
    checkPublished(id, ({ inputs }) => curveOfGrowth(inputs["tau0"], inputs["a"]));
  }
});
