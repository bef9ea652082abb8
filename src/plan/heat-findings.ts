/** Findings about the cooling: is there water at all, and does it carry the heat off. */
import hazards from "../../data/hazards.json" with { type: "json" };
import type { Forecast } from "../setup/index.ts";
import type { Cooling } from "../vessel/index.ts";
import { coolant } from "../vessel/materials.ts";
import type { Finding } from "./finding.ts";
import { celsius, COMMON, digits, plainText } from "./words.ts";

const { outlet_margin: MARGIN, top_difference: AIR_DOES } = hazards.cooling;

export function coolingFindings(forecast: Forecast): Finding[] {
  const { setup, vapour } = forecast;
  const { shell } = setup;
  const balance = vapour.shell?.balance;
  if (shell === undefined || balance === undefined) {
    return setup.construction.cooling === "water" ? [waterNotStated()] : [withoutWater(forecast)];
  }
  const loops = [
    ...loop("top", shell.topCooling, balance.topOutlet),
    ...loop("ends", shell.endCooling, balance.endOutlet),
  ];
  return loops.length > 0 ? loops : [withoutWater(forecast)];
}

function waterNotStated(): Finding {
  return {
    code: "water-not-stated",
    level: "mind",
    sentence:
      "Water cools this tube, but neither its flow nor the heater is stated, so nobody knows whether it carries the heat off.",
    source: COMMON,
    remedy: { text: "state the heater and the loop instead of the wall's temperatures, or cool with air" },
  };
}

function withoutWater({ setup }: Forecast): Finding {
  const { bottom, top } = setup.vessel.wall;
  const difference = bottom - top;
  const numbers = {
    value: difference,
    threshold: AIR_DOES.value,
    unit: "K",
    source: AIR_DOES.source,
  };
  return difference <= AIR_DOES.value
    ? {
        code: "no-water-needed",
        level: "fine",
        sentence: `The top stands ${Math.round(difference)} K below the metal: air and lagging do that, no cooling water is needed.`,
        ...numbers,
      }
    : {
        code: "air-may-not-do",
        level: "fine",
        sentence: `The top is to stand ${Math.round(difference)} K below the metal, more than air and lagging are counted on for; a warmer top bends almost as much.`,
        ...numbers,
      };
}

/** Heat that a liquid carries off, and how warm it leaves. */
function loop(part: "top" | "ends", cooling: Cooling, outlet: number | null): Finding[] {
  if (cooling.kind !== "liquid" || outlet === null) return [];
  const liquid = coolant(cooling.coolant);
  const most = liquid.boiling - MARGIN.value;
  const heat = cooling.flow * liquid.heat_capacity * (outlet - cooling.inlet);
  const said = `The ${liquid.name} on the ${part} carries off ${digits(heat, 2)} W and leaves at ${celsius(outlet)}`;
  const numbers = { value: outlet, threshold: most, unit: "K", source: MARGIN.source };
  if (outlet <= most) {
    return [
      {
        code: "cooling-enough",
        level: "fine",
        sentence: `${said}, ${Math.round(liquid.boiling - outlet)} K below its boiling point.`,
        ...numbers,
      },
    ];
  }
  if (outlet >= liquid.boiling) return []; // said by the shell itself: it boils
  const room = most - cooling.inlet;
  return [
    {
      code: "cooling-short",
      level: "mind",
      sentence: `${said}: too near its boiling point, a kink in the hose and it boils.`,
      ...numbers,
      remedy:
        room > 0
          ? {
              text: "give the loop more flow",
              set: {
                [`vessel.heater.${part}Flow`]: plainText(
                  (1.1 * heat) / (liquid.heat_capacity * room),
                  1e3,
                  "g/s",
                ),
              },
            }
          : { text: "let the liquid enter cooler" },
    },
  ];
}
