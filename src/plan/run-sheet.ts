/**
 * The day's sheet as data: what to gather, interlocks, alignment, heating with what should be seen, what to write down,
 * cooling, clearing up. Cautions stand first, and a box of local approval that only a person may tick.
 */
import { formatQuantity } from "../quantity/index.ts";
import { fingerprint, type Forecast, PROGRAM_VERSION, type Setup } from "../setup/index.ts";
import { cautionsFor, LOCAL_RULES } from "./cautions.ts";
import { check, type Verdict, verdict } from "./check.ts";
import type { Finding } from "./finding.ts";
import { type HeatPlan, heatPlan } from "./heat-plan.ts";
import { tubeMaterial } from "./limits.ts";
import { alignment, type RunStep } from "./run-alignment.ts";
import { vesselLines } from "./run-vessel.ts";
import { heatingRows } from "./run-heating.ts";
import type { SheetParts } from "./sheet-parts.ts";
import { solutionSheet } from "./solution-sheet.ts";
import { span } from "./words.ts";

export interface RunSheet extends SheetParts {
  readonly title: string;
  readonly setup: string;
  readonly program: string;
  readonly verdict: Verdict;
  /** the gravest first */
  readonly cautions: readonly Finding[];
  /** beside the box that a person ticks by hand */
  readonly approval: string;
  readonly alignment: readonly RunStep[];
  /** what asks for thought before heating */
  readonly findings: readonly Finding[];
}

/** The sheet of a forecast setup. Pictures are drawn from coarse forecasts of the same chain. */
export function runSheet(forecast: Forecast): RunSheet {
  const { setup } = forecast;
  const { medium, vessel } = setup;
  const findings = check(forecast);
  const { solution } = forecast.vapour;
  const parts =
    solution !== undefined && medium.solution !== undefined && vessel.contents?.kind === "prism"
      ? solutionSheet(setup, medium, vessel.contents, solution.incidence)
      : vapourSheet(forecast);
  return {
    title: setup.title,
    setup: fingerprint(setup),
    program: PROGRAM_VERSION,
    verdict: verdict(findings),
    cautions: cautionsFor(setup),
    approval: `Approved for this run under the local rules by the person responsible. ${LOCAL_RULES}`,
    alignment: alignment(setup),
    ...parts,
    findings: findings.filter((finding) => finding.level !== "fine"),
  };
}

function vapourSheet(forecast: Forecast): SheetParts {
  const { setup } = forecast;
  const heat = heatPlan(setup);
  const special = vesselLines(setup);
  return {
    gather: gather(setup),
    interlocks: interlocks(setup),
    stopNow: stopNow(setup, forecast.vapour.field.pressure),
    heating: heatingRows(setup, heat),
    heat,
    log: [
      "time",
      "power",
      "metal, °C",
      "top, °C",
      "window A, °C",
      "window B, °C",
      "pressure",
      "frame",
      "initials",
    ],
    photographs: [
      "Dark: light shut off, same exposure.",
      "Line lamp over the whole height of the plumb slit, for the wavelength scale.",
      special?.cold ?? "Cold: tube in place, cold, gas filled; without it nobody can say where zero bend is.",
      ...(forecast.curve.lines.length > 1
        ? ["While warming: every 20 K from the first dark line, until the gaps near each other."]
        : ["While warming: every 20 K from the first dark line on."]),
      "Hot: five frames one after another at the set temperature, nothing moved.",
      "Cold again at the end: what has drifted.",
    ],
    coolDown: special?.coolDown ?? [
      "Heater off. The gas stays in, cooling stays on, nobody opens a valve.",
      `Write down the temperatures every ten minutes until the metal is below 50 °C: ${heat.cold === null ? "more than twelve hours" : `about ${span(heat.cold)}`} by the balance of heat, longer with what the lagging holds.`,
      "Only then vent, if it must be opened at all; otherwise leave it under its gas and label it with metal, date and name.",
    ],
    clearingUp: [
      "Lamp off and cooled; gas cylinder shut; mains off.",
      special?.label ??
        `Label the tube: ${setup.vessel.element}, charge, date. Waste goes to the people licensed for it, never to sink or bin.`,
      "Frames and this sheet go into the notebook together; setup name and fingerprint as above.",
    ],
  };
}

function mm(length: number): string {
  return formatQuantity(length, "m", { digits: 3 });
}

function gather(setup: Setup): string[] {
  const { path, vessel, camera, construction } = setup;
  const disperser = {
    "direct-vision": "direct-vision prism",
    prism: "prism",
    table: "prism of one's own",
    grating: "grating",
    linear: "disperser",
  }[path.disperser.kind];
  const material =
    construction.tubeMaterial === undefined
      ? "tube (material not stated)"
      : `tube of ${tubeMaterial(construction.tubeMaterial).name}`;
  const charge =
    vessel.charge === undefined ? "amount not stated" : formatQuantity(vessel.charge, "kg", { digits: 2 });
  const special = vesselLines(setup)?.gather;
  const tube = [
    `${material}, bore ${mm(vessel.bore)}, heated over ${mm(vessel.heatedLength)}, ${mm(vessel.length)} from window to window`,
    `${vessel.element}, ${charge}, weighed and loaded under ${vessel.gas === "N2" ? "inert gas" : vessel.gas}`,
    `${vessel.gas} at ${formatQuantity(vessel.gasPressure, "Pa", { digits: 3 })}${vessel.gasFilledAt === undefined ? " while hot" : `, filled at ${Math.round(vessel.gasFilledAt - 273.15)} °C`}; pump, gauge, relief valve`,
  ];
  return [
    ...(special ?? tube),
    `lamp (${path.source.kind}), level slit ${mm(path.levelSlit)}, collimator ${mm(path.collimatorFocalLength)}, lens ${mm(path.focalLength)}, plumb slit ${mm(path.plumbSlit)}, second collimator ${mm(path.secondCollimatorFocalLength)}, ${disperser}, camera lens ${mm(path.cameraFocalLength)}`,
    `camera, ${camera.columns} × ${camera.rows} pixels of ${mm(camera.pixel)}, exposure ${formatQuantity(camera.exposure, "s", { digits: 3 })}, raw files, a line lamp`,
    ...(special === undefined
      ? ["thermocouples: metal (in a well), top wall, each window flange; logger or this table"]
      : []),
    "goggles, polycarbonate shields, heat gloves, metal-fire powder within reach, a second person",
  ];
}

function interlocks(setup: Setup): string[] {
  const special = vesselLines(setup)?.interlocks;
  if (special !== undefined)
    return [...special, "Fire powder, gloves, exits and telephone number known to both persons."];
  return [
    "Over-temperature cut-out apart from the controller: tested today by lowering its limit until it trips.",
    "Earth and residual-current breaker: test button pressed.",
    "Relief valve free; gauge reads zero when pumped out.",
    "Leak rate measured and written down: pressure now, and after ten minutes with the pump shut off.",
    ...(setup.construction.cooling === "water"
      ? [
          "Water: flow switch and leak switch each cut the heat, tested today; drip tray dry; nothing above the hot tube.",
        ]
      : ["Cooling air (or lagging) on the top proved before the heater is switched on."]),
    "Fire powder, gloves, exits and telephone number known to both persons.",
  ];
}

/** When the heater goes off at once. @param pressure in the hot tube, Pa */
export function stopNow(setup: Setup, pressure: number): readonly string[] {
  const special = vesselLines(setup)?.stopNow;
  if (special !== undefined) return special;
  const { wall } = setup.vessel;
  const id = setup.construction.tubeMaterial;
  const limit = id === undefined ? undefined : tubeMaterial(id).limit.value;
  const above = Math.min(wall.bottom + 20, limit ?? Infinity);
  return [
    `Metal above ${Math.round(above - 273.15)} °C (20 K over the plan${limit !== undefined && limit < wall.bottom + 20 ? ", and the limit of the tube" : ""}).`,
    `Pressure above ${formatQuantity(1.2 * pressure, "Pa", { digits: 3 })} (a fifth over the forecast), or rising while the temperature stands still.`,
    `Any window hotter than ${Math.round(wall.ends - 273.15 + 40)} °C, browned, crazed or wet.`,
    "Smoke, smell, hissing, a drop of water anywhere near the tube.",
    "Then: heater off at the switch, leave the gas in, step back. Never water.",
  ];
}

/** When the tube is ready, in words. */
export function heatingTime({ heat }: RunSheet): string {
  return heat.ready === null ? "more than twelve hours" : span(heat.ready);
}

/** "20 W from the start, 32 W from 10 min" */
export function powerWords({ settings }: HeatPlan): string {
  return settings
    .map(
      ({ from, power }) =>
        `${Math.round(power)} W ${from === 0 ? "from the start" : `from ${from / 60} min`}`,
    )
    .join(", ");
}
