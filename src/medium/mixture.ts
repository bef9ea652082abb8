/** Several metals in one vapour: their susceptibilities add. */
import { Refusal } from "../quantity/index.ts";
import type { OpticalResponse, VapourState } from "./api.ts";
import { vapourComponents } from "./components.ts";
import { responseFromSusceptibility } from "./response.ts";
import { checkWavelengths } from "./state.ts";
import { angularFrequencies, packComponents, susceptibilityWithSlope } from "./susceptibility.ts";

/**
 * Response of several vapours in the same place, each with its own density; as `vapourResponse` for a single one.
 * Broadening of one metal's lines by the atoms of another is not in the model: it counts only where the other metal is
 * about as dense as the buffer gas.
 *
 * @throws Refusal for an empty list, for states of different temperature or buffer gas, and as `vapourResponse`
 */
export function mixtureResponse(states: readonly VapourState[], wavelengths: Float64Array): OpticalResponse {
  const first = states[0];
  const same = (each: VapourState) =>
    each.temperature === first.temperature &&
    each.gas?.species === first.gas?.species &&
    each.gas?.pressure === first.gas?.pressure;
  if (first === undefined || !states.every(same)) {
    throw new Refusal({
      code: "bad-mixture",
      field: "states",
      received: first === undefined ? "no vapour" : "vapours of different temperature or buffer gas",
      expected: "one or more vapours that share temperature and buffer gas",
    });
  }
  checkWavelengths(wavelengths);
  const packs = states.map((each) => packComponents(vapourComponents(each), each.density));
  const packed = new Float64Array(packs.reduce((sum, each) => sum + each.length, 0));
  let at = 0;
  for (const each of packs) {
    packed.set(each, at);
    at += each.length;
  }
  const omegas = angularFrequencies(wavelengths);
  return responseFromSusceptibility(wavelengths, omegas, susceptibilityWithSlope(packed, omegas));
}
