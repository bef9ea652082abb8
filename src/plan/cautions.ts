/**
 * The usual cautions for a setup, each with the usual measure and where it comes from. They are advice: local codes, the
 * laboratory's safety officer and licensed practice decide. The program never calls a setup safe.
 */
import type { MetalInput, Setup } from "../setup/index.ts";
import hazards from "../../data/hazards.json" with { type: "json" };
import type { Finding } from "./finding.ts";
import { blueLight, hydrogenYield, USUAL_CHARGE, USUAL_RAMP } from "./limits.ts";
import { metalFire, sheets, waterSheets } from "./safety-sheets.ts";
import { solutionCautions } from "./solution-cautions.ts";
import { COMMON, digits, span } from "./words.ts";

const ALKALI: ReadonlySet<string> = new Set(["Li", "Na", "K", "Rb", "Cs"]);
const NITRIDE_FORMERS: ReadonlySet<string> = new Set(["Li", "Mg", "Ca", "Sr", "Ba"]);
const SUPEROXIDE: ReadonlySet<string> = new Set(["K", "Rb", "Cs"]);

/** The sentence that stands above every plan. */
export const LOCAL_RULES =
  "Local codes, the laboratory's safety officer and licensed practice come first; this program never calls a setup safe.";

const WEIGHT = { stop: 0, mind: 1, fine: 2 } as const;

/** Cautions in the order in which they should be read: the gravest first, the local rules last; never empty. */
export function cautionsFor(setup: Setup): readonly Finding[] {
  const { medium } = setup;
  const found =
    medium.solution === undefined
      ? [...metal(setup, medium), ...glassAndGas(), ...light(setup), ...powerAndHeat(setup)]
      : [...solutionCautions(medium), ...light(setup)];
  const told = found.filter(({ code }) => setup.vessel.contents?.kind !== "flame" || !OF_A_TUBE.has(code));
  told.sort((a, b) => WEIGHT[a.level] - WEIGHT[b.level]);
  told.push({ code: "local-rules", level: "mind", sentence: LOCAL_RULES, source: COMMON });
  return told.map((finding) => ({ ...finding, sentence: named(finding.sentence, setup) }));
}

/** Cautions about metal shut up in a hot vessel, which a salted flame has not. */
const OF_A_TUBE: ReadonlySet<string> = new Set([
  "alkali-and-water",
  "metal-and-water",
  "air-while-hot",
  "metal-fire",
  "superoxide",
  "leftovers",
  "glass-under-vacuum",
]);

/** The vessel called what it is: a sentence about a tube holds for a cell and a burner as well. */
function named(sentence: string, { vessel }: Setup): string {
  const { contents } = vessel;
  if (contents === undefined) return sentence;
  return contents.kind === "cell"
    ? sentence.replace(/\btube\b/g, "cell")
    : sentence
        .replace("Where a burner heats the tube: carbon", "A burner: carbon")
        .replace(
          /^The tube at .*$/,
          "Flame and burner burn at a touch, the burner for long after the gas is off: guard it and label it hot.",
        );
}

/** "5 g of Cs would set free 0.45 l of hydrogen, enough to make 11 l of air burnable". */
function hydrogenSentence(element: string, mass: number): string {
  const { volume, burnable } = hydrogenYield(element, mass);
  return `${digits(mass * 1e3, 2)} g of ${element} would set free ${digits(volume * 1e3, 2)} l of hydrogen, enough to make ${digits(burnable * 1e3, 2)} l of air burnable`;
}

function metal(setup: Setup, { element }: MetalInput): Finding[] {
  const alkali = ALKALI.has(element);
  const mass = setup.vessel.charge;
  const reacts = mass !== undefined && hydrogenYield(element, mass).amount > 0;
  const stake = !reacts ? "" : ` (${hydrogenSentence(element, mass)})`;
  const amount = !reacts ? {} : { value: hydrogenYield(element, mass).volume, unit: "m3" };
  const findings: Finding[] = [];
  if (setup.construction.cooling === "water") {
    findings.push({
      code: "water-cooling",
      level: alkali ? "stop" : "mind",
      sentence: `Cooling water beside hot ${element} is the gravest hazard here: a leak into the hot tube bursts it and throws caustic spray${stake}.`,
      ...amount,
      source: `${waterSheets(element)}; that a top 85 to 150 K cooler than the metal needs no water: diffusion model`,
      remedy: {
        text: "cool the top with air or thinner lagging; where water must be, clamp it on outside, in a closed low-pressure loop whose flow and leak switches cut the heat",
        set: { "vessel.cooling": "air" },
      },
    });
  }
  if (setup.vessel.gas === "N2" && NITRIDE_FORMERS.has(element)) {
    findings.push({
      code: "nitride",
      level: "stop",
      sentence: `Hot ${element} forms a nitride in nitrogen: the metal is lost, and the nitride gives off ammonia with water.`,
      source: `${sheets("icsc-n2")} (lithium, calcium, strontium, barium); ammonia from memory`,
      remedy: { text: "fill with argon", set: { "vessel.gas": "Ar" } },
    });
  }
  findings.push(
    hydrogenYield(element, 1).amount > 0
      ? {
          code: alkali ? "alkali-and-water" : "metal-and-water",
          level: alkali ? "stop" : "mind",
          sentence: `${element} and water free hydrogen, which may ignite or explode${stake}: no water joint over or inside the hot space, a dry pan below.`,
          ...amount,
          source: `${waterSheets(element)}; amount by stoichiometry; ${hazards.hydrogen.lower_explosive_limit.source}`,
        }
      : {
          code: "metal-and-water",
          level: "mind",
          sentence: `Cold water leaves ${element} alone, but water on the hot tube bursts into steam and the hot metal frees hydrogen from it: no water joint over or inside the hot space.`,
          source: `${waterSheets(element)}; ${COMMON}`,
        },
  );
  findings.push({
    code: "air-while-hot",
    level: "stop",
    sentence: `Air let in while the tube is hot may set the ${element} on fire: let it cool to the room's temperature under its gas before anything is opened.`,
    source: `${waterSheets(element)}; ${COMMON}`,
  });
  const fire = metalFire(element);
  findings.push({
    code: "metal-fire",
    level: "mind",
    sentence: `Keep ${fire.keep} within reach, enough to bury the charge; on burning ${element} never ${fire.never}.`,
    source: fire.source,
  });
  if (SUPEROXIDE.has(element)) {
    findings.push({
      code: "superoxide",
      level: "mind",
      sentence: `Old ${element} under a yellow or orange crust holds superoxide, which explodes with oil or with the metal itself: leave it unopened to specialists.`,
      source: `${sheets("doe-1081", "cameo-4289", "iowa-peroxides")}${element === "K" ? "" : `; for ${element} by likeness`}`,
    });
  }
  if (element === "Ba") {
    findings.push({
      code: "barium",
      level: "mind",
      sentence: `Soluble barium compounds are poisonous (limit ${hazards.barium.value} mg/m³): gloves, no dust, waste to specialists.`,
      value: 5e-7,
      unit: "kg/m3",
      source: `${hazards.barium.source}; ${sheets("hsdb-ba")}`,
    });
  }
  if (element === "Zn") {
    findings.push({
      code: "zinc-fume",
      level: "mind",
      sentence: `Zinc vapour that meets air turns to a smoke of oxide, which brings a fever some hours later (limit ${hazards.zinc_oxide.value} mg/m³): open the tube cold only, under an extractor.`,
      value: 5e-6,
      unit: "kg/m3",
      source: sheets("nj-2037", "cornell-zn"),
    });
  }
  if (mass !== undefined && mass > USUAL_CHARGE.value) {
    findings.push({
      code: "large-charge",
      level: "mind",
      sentence: `A charge of ${digits(mass * 1e3, 2)} g is more than the ${digits(USUAL_CHARGE.value * 1e3, 2)} g usual for a demonstration tube.`,
      value: mass,
      threshold: USUAL_CHARGE.value,
      unit: "kg",
      source: USUAL_CHARGE.source,
      remedy: { text: "load 5 g or less", set: { "vessel.charge": "5 g" } },
    });
  }
  findings.push({
    code: "leftovers",
    level: "mind",
    sentence: `Metal left in the tube and on its cold ends stays reactive: no quenching, no sink; label it and hand ${element} waste to the people licensed for it. Never work alone with it.`,
    source: `${waterSheets(element)}; ${COMMON}`,
  });
  return findings;
}

function glassAndGas(): Finding[] {
  return [
    {
      code: "glass-under-vacuum",
      level: "mind",
      sentence: `An evacuated window can burst inward from a scratch or a blow: look at it before every run, polycarbonate shield and goggles, no crack test while hot, no faster than ${digits(USUAL_RAMP.value * 60, 2)} K a minute, a relief valve for over-pressure.`,
      value: USUAL_RAMP.value,
      unit: "K/s",
      source: `${sheets("penn-vacuum", "cornell-vacuum")}; rate: ${USUAL_RAMP.source}`,
    },
    {
      code: "gas-cylinder",
      level: "mind",
      sentence:
        "Chain the gas cylinder, use its regulator, and air the room: argon is heavier than air, lies in pits, pushes the oxygen away and gives no warning.",
      source: `${sheets("messer-ar")}; ${COMMON}`,
    },
  ];
}

function light(setup: Setup): Finding[] {
  const { source } = setup.path;
  const arc = source.kind === "carbon-arc" || source.kind === "xenon-arc";
  // An arc is as hot as it is, whatever colour temperature the setup gives it.
  const blue = blueLight(arc ? { kind: source.kind } : source);
  if (blue === undefined) return [];
  const findings: Finding[] = [];
  if (blue.time < hazards.blue_light.longest.value) {
    findings.push({
      code: "bright-lamp",
      level: "mind",
      sentence: `Looking into the bare lamp reaches the blue-light limit in ${span(blue.time)}, and staring at it is over the limit within ${digits(blue.distance, 2)} m: never look along the beam, even after the prism; use the camera or a card.`,
      value: blue.time,
      threshold: hazards.blue_light.longest.value,
      unit: "s",
      source: `${blue.source}; radiance of the modelled lamp, its usual size`,
    });
  }
  if (arc) {
    findings.push({
      code: "arc-light",
      level: "mind",
      ...(source.kind === "xenon-arc"
        ? {
            sentence:
              "A xenon bulb stands under pressure cold and hot and can burst, its igniter gives tens of kilovolts, its ultraviolet burns eyes and skin and makes ozone: closed housing, visor and gloves at the bulb, ten minutes to cool before the housing is opened, ventilation.",
            source: `${sheets("davis-arcs", "sq-arcs")}; igniter: ${COMMON}`,
          }
        : {
            sentence:
              "The carbon arc burns eyes and skin with ultraviolet and gives off carbon monoxide, nitrogen oxides and ozone: closed housing, extraction, dark glass.",
            source: sheets("cameo-arc"),
          }),
    });
  }
  return findings;
}

function powerAndHeat(setup: Setup): Finding[] {
  const hot = setup.vessel.wall.bottom;
  return [
    {
      code: "mains-and-heat",
      level: "mind",
      sentence:
        "Mains heaters on steel want earth, a residual-current breaker and an over-temperature cut-out with a sensor of its own, apart from the controller; no run goes unattended.",
      source: sheets("fuji-limit", "ecu-heating"),
    },
    {
      code: "flame",
      level: "mind",
      sentence:
        "Where a burner heats the tube: carbon monoxide (35 ppm at most over a day), a gas tap within reach, no flame near gas hoses, ventilation.",
      source: `${sheets("niosh-co")}; ${COMMON}`,
    },
    {
      code: "burns",
      level: "mind",
      sentence: `The tube at ${Math.round(hot - 273.15)} °C ${hot > hazards.glow.value ? "glows" : "does not glow"} and burns at a touch for hours after: guard it and label it hot.`,
      source: `${COMMON}; ${hazards.glow.source}`,
    },
  ];
}
