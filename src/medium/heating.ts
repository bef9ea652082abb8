/** Metals that no setup may heat. */
import { knownElement } from "../reference/index.ts";

const POISONOUS: Readonly<Record<string, string>> = {
  Hg: "mercury vapour is a cumulative poison that passes through the lungs into the blood",
  Cd: "cadmium vapour and its oxide smoke are acutely poisonous to the lungs and cause cancer",
  Tl: "thallium is an acute and cumulative poison, taken up through lungs and skin",
};

/**
 * Why a tube with this metal is not offered, as a clause without final stop; undefined where nothing forbids it. The
 * index of its vapour is still computed. Common practice, no single source; local safety rules decide in every case.
 */
export function heatingRefusal(element: string): string | undefined {
  return POISONOUS[knownElement(element)];
}
