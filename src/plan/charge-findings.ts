/** Findings about the metal that is loaded. */
import type { Forecast } from "../setup/index.ts";
import type { Finding } from "./finding.ts";
import { digits, plainText, span } from "./words.ts";

/** How long the metal lasts; a proposal where no charge is stated. */
export function chargeFindings({ setup, vapour }: Forecast): Finding[] {
  const { solidLoss, chargeLife } = vapour.numbers;
  const rate = `${digits(solidLoss * 3.6e6, 2)} g an hour`;
  const source = "diffusion from the hot wall to walls below the melting point, this tube";
  if (setup.vessel.charge === undefined) {
    const wanted = Math.max(0.5e-3, 3 * 3600 * solidLoss);
    return [
      {
        code: "charge-not-stated",
        level: "fine",
        sentence: `No charge is stated: ${rate} settle as a solid, so three hours ask for ${digits(wanted * 1e3, 2)} g.`,
        value: solidLoss,
        unit: "kg/s",
        source,
        remedy: { text: "state the charge", set: { "vessel.charge": plainText(wanted, 1e3, "g") } },
      },
    ];
  }
  if (chargeLife === null) {
    return [
      {
        code: "charge-runs-back",
        level: "fine",
        sentence: `The charge of ${digits(setup.vessel.charge * 1e3, 2)} g is not used up: what settles is liquid and runs back.`,
        value: solidLoss,
        unit: "kg/s",
        source,
      },
    ];
  }
  if (chargeLife < 3600) return []; // short ones: said by the vessel itself
  return [
    {
      code: "charge-lasts",
      level: "fine",
      sentence: `The charge of ${digits(setup.vessel.charge * 1e3, 2)} g lasts ${span(chargeLife)} at ${rate}.`,
      value: chargeLife,
      threshold: 3600,
      unit: "s",
      source,
    },
  ];
}
