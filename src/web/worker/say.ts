import { cautionsFor, check } from "../../plan/index.ts";
import type { Forecast } from "../../setup/index.ts";
import type { Sight } from "./protocol.ts";

/** What is to be said about a forecast. */
export function sayAbout(forecast: Forecast): Sight["said"] {
  return { findings: check(forecast), cautions: cautionsFor(forecast.setup) };
}
