/** Findings about the tube: vapour and gas, fog, heat-pipe, charge, windows, wall. */
import { saturationPressure, vapourWarnings } from "../medium/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import { metalOf, type Forecast, stateOf } from "../setup/index.ts";
import { metalBudget } from "../vessel/index.ts";
import { chargeFindings } from "./charge-findings.ts";
import type { Finding } from "./finding.ts";
import { gentleTop, layering } from "./gentle-top.ts";
import { coolingFindings } from "./heat-findings.ts";
import {
  LEAST_SAFETY_FACTOR,
  plateStress,
  plateThickness,
  ROOM_PRESSURE,
  SAFETY_FACTOR,
  tubeMaterial,
  windowMaterial,
} from "./limits.ts";
import { DIMERS_FROM, metalShare, quietFindings, SHARE_FROM } from "./quiet-findings.ts";
import { celsius, celsiusText, COMMON, digits, plainText } from "./words.ts";

/** A vessel whose contents are stated has no top to cool, no charge to lose and no wall of its own. */
export function vesselFindings(forecast: Forecast): Finding[] {
  const common = [...vapour(forecast), ...medium(forecast)];
  if (forecast.vapour.field.regime === "stated") return common;
  return [
    ...common,
    ...coldTop(forecast),
    ...vapourShare(forecast),
    ...chargeFindings(forecast),
    ...coolingFindings(forecast),
    ...quietFindings(forecast),
    ...windows(forecast),
    ...wall(forecast),
  ];
}

/** UCUM codes of the numbers of warnings that are not plain ratios. */
const UNITS: Readonly<Record<string, string>> = {
  "charge-short": "s",
  "window-fogging": "m",
  "solid-builds-up": "m",
};

/** The vessel's own warnings, with remedies that can be set. */
function vapour({ setup, vapour }: Forecast): Finding[] {
  const top = gentleTop(setup.vessel, setup.vessel.wall.bottom);
  return vapour.numbers.warnings.map((warning) => ({
    code: warning.code,
    level: warning.level,
    sentence: warning.sentence,
    ...(warning.value === undefined ? {} : { value: warning.value }),
    ...(warning.threshold === undefined ? {} : { threshold: warning.threshold }),
    unit: UNITS[warning.code] ?? "1",
    source: warning.source,
    ...remedyFor(warning.code, warning.remedy),
  }));

  function remedyFor(code: string, given: Finding["remedy"]): Pick<Finding, "remedy"> {
    const { gasPressure, wall } = setup.vessel;
    const gas = (factor: number) => ({ "vessel.gasPressure": plainText(gasPressure * factor, 1e-2, "mbar") });
    if ((code === "fog-likely" || code === "linear-model-refused") && top > wall.top) {
      return {
        remedy: {
          text: `let the top be at ${celsius(top)}, which keeps 97 % of the largest gradient`,
          set: { "vessel.top": celsiusText(top) },
        },
      };
    }
    if (code === "convection-likely" && given !== undefined) {
      const { rayleigh } = vapour.numbers;
      const onset = vapour.numbers.warnings.find((w) => w.code === code)?.threshold ?? rayleigh;
      return { remedy: { ...given, set: gas(0.95 * Math.sqrt(onset / rayleigh)) } };
    }
    if (code === "window-fogging" && given !== undefined) {
      const warm = metalBudget(vapour.field).windowDewPoint + 20;
      return { remedy: { ...given, set: { "vessel.windowTemperature": celsiusText(warm) } } };
    }
    if (code === "heat-pipe") {
      const hottest = saturationPressure(
        metalOf(setup, "this finding").element,
        wall.bottom,
        setup.vessel.pressureEquation,
      );
      const factor = (3 * hottest) / vapour.field.pressure;
      return {
        remedy: { text: "fill three times the metal's own pressure of gas, or heat less", set: gas(factor) },
      };
    }
    return given === undefined ? {} : { remedy: given };
  }
}

/** A top colder than it need be: fog without more bend. */
function coldTop({ setup, vapour }: Forecast): Finding[] {
  const { wall } = setup.vessel;
  const enough = gentleTop(setup.vessel, wall.bottom);
  const numbers = {
    value: wall.top,
    threshold: enough,
    unit: "K",
    source:
      "closed form of diffusion in a half-hot bore with its own gas temperature, checked against the solved bore",
  };
  if (wall.top < enough - 10) {
    return [
      {
        code: "top-colder-than-needed",
        level: "fine",
        sentence: `The top need not be colder than ${celsius(enough)}: there 97 % of the largest gradient stands, and less smoke (supersaturation on the beam now ${digits(vapour.numbers.midSupersaturation, 2)}).`,
        ...numbers,
        remedy: { text: "warm the top", set: { "vessel.top": celsiusText(enough) } },
      },
    ];
  }
  const share =
    0.97 * (layering(setup.vessel, wall.bottom, wall.top) / layering(setup.vessel, wall.bottom, enough));
  if (share >= 0.9) return [];
  return [
    {
      code: "top-too-warm",
      level: "mind",
      sentence: `The top is so warm that only ${Math.round(100 * Math.max(0, share))} % of the largest gradient stands.`,
      ...numbers,
      remedy: { text: "cool the top", set: { "vessel.top": celsiusText(enough) } },
    },
  ];
}

/** Metal's share of the pressure at the hottest wall: from a tenth on it drives the gas before it. */
function vapourShare({ setup, vapour }: Forecast): Finding[] {
  if (vapour.field.regime === "heat-pipe") return [];
  const { gasPressure } = setup.vessel;
  const share = metalShare({ setup, vapour });
  if (share < SHARE_FROM) return [];
  return [
    {
      code: "near-heat-pipe",
      level: "mind",
      sentence: `The metal's vapour makes ${Math.round(100 * share)} % of the pressure at the hottest wall: a little more heat and it drives the gas out.`,
      value: share,
      threshold: SHARE_FROM,
      unit: "1",
      source: COMMON,
      remedy: {
        text: "fill more gas",
        set: { "vessel.gasPressure": plainText((gasPressure * share) / 0.1, 1e-2, "mbar") },
      },
    },
  ];
}

const MEDIUM_LEVEL: Readonly<Record<string, Finding["level"]>> = {
  "dimers-likely": "mind",
  "local-field": "mind",
};

/** What limits the answer about the light: molecules, local field, broadening that is only estimated. */
function medium({ setup, vapour, curve }: Forecast): Finding[] {
  const shown = new Set(curve.lines.map((line) => line.line));
  const reach = Math.max(0, ...curve.lines.map((line) => line.halfGap));
  const state = stateOf(vapour, "this finding");
  return vapourWarnings(state, reach)
    .filter((warning) => warning.lines.length === 0 || warning.lines.some((line) => shown.has(line)))
    .map((warning) => ({
      code: warning.code,
      level: MEDIUM_LEVEL[warning.code] ?? "fine",
      sentence: warning.sentence,
      ...(warning.code === "dimers-likely"
        ? {
            value: state.density * BOLTZMANN * state.temperature,
            threshold: DIMERS_FROM,
            unit: "Pa",
          }
        : {}),
      ...(warning.code === "impact-limit" ? { value: reach, threshold: 0.3e-9, unit: "m" } : {}),
      source: `what the model of the medium says of itself; ${COMMON}`,
      ...(warning.code === "dimers-likely"
        ? {
            remedy: {
              text: "cool the bottom by 15 K",
              set: { "vessel.bottom": celsiusText(setup.vessel.wall.bottom - 15) },
            },
          }
        : {}),
    }));
}

/** Stress of the windows while the tube is pumped out (the whole atmosphere), and over-pressure while hot. */
function windows({ setup, vapour }: Forecast): Finding[] {
  const { windowThickness, windowDiameter, windowMaterial: id } = setup.construction;
  const glass = windowMaterial(id);
  const rupture = glass.rupture.value;
  const enough = plateThickness(ROOM_PRESSURE, windowDiameter, rupture, SAFETY_FACTOR.value);
  const set = { "vessel.windowThickness": `${Math.ceil(enough * 2e3) / 2} mm` };
  const source = `σ = 1.125 p D²/(4 t²) of a disc whose rim lies loose, The Design of Pressure Windows; strength ${glass.rupture.source}; factor: ${SAFETY_FACTOR.source}`;
  const findings: Finding[] = [];
  if (vapour.field.pressure > ROOM_PRESSURE) {
    findings.push({
      code: "over-pressure",
      level: "stop",
      sentence: `Hot, the tube would hold ${digits(vapour.field.pressure / 1e5, 3)} bar, more than the room: the windows are blown out and nothing seals.`,
      value: vapour.field.pressure,
      threshold: ROOM_PRESSURE,
      unit: "Pa",
      source: "standard atmosphere",
      remedy: { text: "fill less gas, and keep a relief valve" },
    });
  }
  if (windowThickness === undefined) {
    findings.push({
      code: "window-not-stated",
      level: "mind",
      sentence: `The windows' thickness is not stated: over ${digits(windowDiameter * 1e3, 3)} mm a disc of ${glass.name} must have ${digits(enough * 1e3, 2)} mm or more against one atmosphere.`,
      value: enough,
      unit: "m",
      source,
      remedy: { text: "state the thickness", set },
    });
    return findings;
  }
  const stress = plateStress(ROOM_PRESSURE, windowDiameter, windowThickness);
  const factor = rupture / stress;
  const said = `Pumped out, a window of ${digits(windowThickness * 1e3, 2)} mm ${glass.name} stands ${digits(stress / 1e6, 2)} MPa, ${digits(factor, 2)} times less than its strength`;
  const numbers = { value: factor, threshold: SAFETY_FACTOR.value, unit: "1", source };
  if (factor >= SAFETY_FACTOR.value)
    findings.push({ code: "window-stress", level: "fine", sentence: `${said}.`, ...numbers });
  else {
    const grave = factor < LEAST_SAFETY_FACTOR.value;
    findings.push({
      code: "window-too-thin",
      level: grave ? "stop" : "mind",
      sentence: `${said}: ${grave ? "it may burst" : "less than the usual reserve of four"}.`,
      ...numbers,
      remedy: { text: "take a thicker window", set },
    });
  }
  return findings;
}

/** Wall temperature against what the material takes, and metals that eat it. */
function wall({ setup }: Forecast): Finding[] {
  const { tubeMaterial: id } = setup.construction;
  const hottest = setup.vessel.wall.bottom;
  if (id === undefined) {
    return [
      {
        code: "tube-not-stated",
        level: "mind",
        sentence: `What the tube is made of is not stated, so nobody knows whether its wall takes ${celsius(hottest)}.`,
        value: hottest,
        unit: "K",
        source: COMMON,
        remedy: { text: "state the tube's material", set: { "vessel.tubeMaterial": "steel-304" } },
      },
    ];
  }
  const material = tubeMaterial(id);
  const { element } = metalOf(setup, "this finding");
  const findings: Finding[] = [];
  const margin = material.limit.value - hottest;
  if (margin < 50) {
    findings.push({
      code: margin < 0 ? "wall-too-hot" : "wall-near-limit",
      level: margin < 0 ? "stop" : "mind",
      sentence: `The wall at ${celsius(hottest)} is ${margin < 0 ? "above" : "near"} what ${material.name} takes, ${celsius(material.limit.value)}.`,
      value: hottest,
      threshold: material.limit.value,
      unit: "K",
      source: material.limit.source,
      remedy: { text: "take a tube of steel", set: { "vessel.tubeMaterial": "steel-304" } },
    });
  } else {
    findings.push({
      code: "wall-holds",
      level: "fine",
      sentence: `The wall at ${celsius(hottest)} stays ${Math.round(margin)} K below what ${material.name} takes.`,
      value: hottest,
      threshold: material.limit.value,
      unit: "K",
      source: material.limit.source,
    });
  }
  if (material.attackedBy.includes(element)) {
    findings.push({
      code: "wall-attacked",
      level: element === "Na" ? "mind" : "stop",
      sentence: `Hot ${element} attacks ${material.name}: the wall browns, and may give way.`,
      source: material.attackSource ?? COMMON,
      remedy: { text: "take a tube of steel", set: { "vessel.tubeMaterial": "steel-304" } },
    });
  }
  return findings;
}
