/**
 * The usual cautions for a setup. They are advice: local codes, the laboratory's safety officer and licensed practice
 * decide. The program never calls a setup safe.
 */

import type { Setup } from "../setup/index.ts";
import type { Finding } from "./finding.ts";

const DOE = "DOE Handbook 1081-94, Primer on Spontaneous Heating and Pyrophoricity";
const COMMON = "common practice, no source";

const ALKALI = new Set(["Li", "Na", "K", "Rb", "Cs"]);
const NITRIDE_FORMERS = new Set(["Li", "Mg", "Ca", "Sr", "Ba"]);

/** Cautions in the order in which they should be read; never empty. */
export function cautionsFor(setup: Setup): readonly Finding[] {
  const { element } = setup.medium;
  const findings: Finding[] = [];
  if (setup.vessel.gas === "N2" && NITRIDE_FORMERS.has(element)) {
    findings.push({
      code: "nitride",
      level: "stop",
      sentence: `Hot ${element} forms a nitride in nitrogen: the metal is lost, and the nitride gives off ammonia with water.`,
      source:
        "International Labour Organization chemical safety card on nitrogen (nitrides of Li, Ca, Sr, Ba); ammonia from memory",
      remedy: { text: "fill with argon", set: { "vessel.gas": "Ar" } },
    });
  }
  if (ALKALI.has(element)) {
    findings.push({
      code: "alkali-and-water",
      level: "stop",
      sentence: `${element} and water free hydrogen, which may ignite or explode: no water joint over or inside the hot space, a dry pan below.`,
      source: DOE,
    });
    findings.push({
      code: "metal-fire",
      level: "mind",
      sentence:
        "Keep a metal-fire powder (sodium chloride or carbonate based; graphite or copper for lithium) within reach; never water, carbon dioxide or halon.",
      source: DOE,
    });
  }
  if (element === "Ba") {
    findings.push({
      code: "barium",
      level: "mind",
      sentence:
        "Soluble barium compounds are poisonous (limit 0.5 mg/m³): gloves, no dust, waste to specialists.",
      source: "NIOSH Pocket Guide, barium soluble compounds, REL 0.5 mg/m³ (value from memory)",
    });
  }
  if ((setup.vessel.charge ?? 0) > 5e-3) {
    findings.push({
      code: "large-charge",
      level: "mind",
      sentence: `A charge of ${((setup.vessel.charge ?? 0) * 1e3).toPrecision(2)} g is more than the 5 g usual for a demonstration tube.`,
      value: setup.vessel.charge ?? 0,
      threshold: 5e-3,
      unit: "kg",
      source: COMMON,
      remedy: { text: "load 5 g or less", set: { "vessel.charge": "5 g" } },
    });
  }
  findings.push({
    code: "glass-under-vacuum",
    level: "mind",
    sentence:
      "A hot evacuated window can burst inward: polycarbonate shield, slow ramps, a relief valve for over-pressure.",
    source: COMMON,
  });
  if (setup.path.source.kind === "carbon-arc" || setup.path.source.kind === "xenon-arc") {
    findings.push({
      code: "arc-light",
      level: "mind",
      sentence:
        "Arc light burns eyes and skin and makes ozone: housing, ventilation, and never look along the beam, even after the prism.",
      source: COMMON,
    });
  }
  findings.push({
    code: "mains-and-heat",
    level: "mind",
    sentence:
      "Mains heaters on steel want earth, a residual-current breaker and an over-temperature cut-out apart from the controller; local codes and licensed practice decide.",
    source: COMMON,
  });
  return findings;
}
