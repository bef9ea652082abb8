/**
 * Prisms of stored glasses against textbook deviations (Jenkins & White, "Fundamentals of Optics"; Hecht, "Optics").
 * The deviation is traced through both faces and minimised by search; the closed form sin((A + D)/2)/sin(A/2) is not used.
 */
import { describe } from "vitest";
import { glassIndexInAir } from "../../src/medium/index.ts";
import { angleAfter } from "../../src/path/index.ts";
import { FRAUNHOFER } from "../../src/reference/index.ts";
import { checkPublished, published } from "./published-check.ts";

const RADIAN = Math.PI / 180;
const D_LINE = FRAUNHOFER.find((letter) => letter.letter === "d")!.airWavelength;

/** Deviation of a prism with apex angle in air, for a ray at `angle`, rad. */
function deviation(apex: number, index: number, angle: number): number {
  const train = { tilts: [apex / 2, -apex / 2], media: [-1, 0, -1] };
  return Math.abs(angleAfter(train, [index], angle) - angle);
}

/** Smallest deviation by golden section over the angle of incidence, degrees. */
function minimumDeviation(apexDegrees: number, index: number): number {
  const apex = apexDegrees * RADIAN;
  const golden = (Math.sqrt(5) - 1) / 2;
  const middle = Math.asin(index * Math.sin(apex / 2));
  let low = apex / 2 - middle - 0.1;
  let high = apex / 2 - middle + 0.1;
  for (let i = 0; i < 60; i++) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (deviation(apex, index, a) < deviation(apex, index, b)) high = b;
    else low = a;
  }
  return deviation(apex, index, (low + high) / 2) / RADIAN;
}

describe("prisms against textbooks", () => {
  for (const code of ["517642", "620364", "728284"]) {
    checkPublished(`prism-min-dev-${code}`, ({ inputs }) =>
      minimumDeviation(inputs.apex_deg, glassIndexInAir(code, D_LINE)),
    );
  }
  checkPublished("prism-textbook", ({ inputs }) => minimumDeviation(inputs.apex_deg, inputs.n));

  // Thin prisms of a thousandth of the size deviate in proportion to their angles.
  checkPublished("direct-vision-thin", () => {
    const crown = glassIndexInAir("517642", D_LINE);
    const flint = glassIndexInAir("620364", D_LINE);
    const small = 1e-3 * RADIAN;
    const train = (a: number) => ({
      tilts: [
        0,
        published("direct-vision-thin").inputs.A_crown_deg * small,
        (published("direct-vision-thin").inputs.A_crown_deg - a) * small,
      ],
      media: [-1, 0, 1, -1],
    });
    let low = 5;
    let high = 12;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      const left = angleAfter(train(low), [crown, flint], 0);
      if (left * angleAfter(train(middle), [crown, flint], 0) > 0) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  });
});
