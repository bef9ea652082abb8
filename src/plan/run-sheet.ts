/**
 * The day's sheet as data: what to gather, interlocks, alignment, heating with what should be seen, what to write down,
 * cooling, clearing up. Cautions stand first, and a box of local approval that only a person may tick.
 */
import { meltingPoint } from "../medium/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { fingerprint, type Forecast, PROGRAM_VERSION, type Setup } from "../setup/index.ts";
import { cautionsFor, LOCAL_RULES } from "./cautions.ts";
import { check, type Verdict, verdict } from "./check.ts";
import type { Finding } from "./finding.ts";
import { tubeMaterial, USUAL_RAMP } from "./limits.ts";
import { type Outcome, quickForecast } from "./quick.ts";
import { type RunPicture, runPicture } from "./run-pictures.ts";
import { digits, nm, span } from "./words.ts";

export interface RunStep {
  readonly text: string;
  /** what should be seen */
  readonly see?: string;
  readonly picture?: { readonly caption: string; readonly image: RunPicture };
}

/** One line of the heating table. */
export interface HeatRow {
  /** s since the heater was switched on, at the usual rate */
  readonly time: number;
  /** K */
  readonly bottom: number;
  readonly top: number;
  readonly mark: string;
  readonly see: string;
  readonly picture?: RunPicture;
}

export interface RunSheet {
  readonly title: string;
  readonly setup: string;
  readonly program: string;
  readonly verdict: Verdict;
  /** the gravest first */
  readonly cautions: readonly Finding[];
  /** beside the box that a person ticks by hand */
  readonly approval: string;
  readonly gather: readonly string[];
  readonly interlocks: readonly string[];
  readonly stopNow: readonly string[];
  readonly alignment: readonly RunStep[];
  readonly heating: readonly HeatRow[];
  /** columns of the log */
  readonly log: readonly string[];
  readonly photographs: readonly string[];
  readonly coolDown: readonly string[];
  readonly clearingUp: readonly string[];
  /** what asks for thought before heating */
  readonly findings: readonly Finding[];
}

/** K */
const ROOM = 293.15;
/** Slope of the badly aligned slit in its picture, rad. */
const ASKEW = 0.04;

/** The sheet of a forecast setup. Pictures are drawn from coarse forecasts of the same chain. */
export function runSheet(forecast: Forecast): RunSheet {
  const { setup } = forecast;
  const findings = check(forecast);
  return {
    title: setup.title,
    setup: fingerprint(setup),
    program: PROGRAM_VERSION,
    verdict: verdict(findings),
    cautions: cautionsFor(setup),
    approval: `Approved for this run under the local rules by the person responsible. ${LOCAL_RULES}`,
    gather: gather(setup),
    interlocks: interlocks(setup),
    stopNow: stopNow(forecast),
    alignment: alignment(setup),
    heating: heating(setup),
    log: ["time", "metal, °C", "top, °C", "window A, °C", "window B, °C", "pressure", "frame", "initials"],
    photographs: [
      "Dark: light shut off, same exposure.",
      "Line lamp over the whole height of the plumb slit, for the wavelength scale.",
      "Cold: tube in place, cold, gas filled; without it nobody can say where zero bend is.",
      ...(forecast.curve.lines.length > 1
        ? ["While warming: every 20 K from the first dark line, until the gaps near each other."]
        : ["While warming: every 20 K from the first dark line on."]),
      "Hot: five frames one after another at the set temperature, nothing moved.",
      "Cold again at the end: what has drifted.",
    ],
    coolDown: [
      "Heater off. The gas stays in, cooling stays on, nobody opens a valve.",
      "Write down the temperatures every ten minutes until the metal is below 50 °C.",
      "Only then vent, if it must be opened at all; otherwise leave it under its gas and label it with metal, date and name.",
    ],
    clearingUp: [
      "Lamp off and cooled; gas cylinder shut; mains off.",
      `Label the tube: ${setup.medium.element}, charge, date. Waste goes to the people licensed for it, never to sink or bin.`,
      "Frames and this sheet go into the notebook together; setup name and fingerprint as above.",
    ],
    findings: findings.filter((finding) => finding.level !== "fine"),
  };
}

function mm(length: number): string {
  return formatQuantity(length, "m", { digits: 3, plain: true });
}

function gather(setup: Setup): string[] {
  const { path, vessel, camera, medium, construction } = setup;
  const disperser = {
    "direct-vision": "direct-vision prism",
    grating: "grating",
    linear: "disperser",
  }[path.disperser.kind];
  const material =
    construction.tubeMaterial === undefined
      ? "tube (material not stated)"
      : `tube of ${tubeMaterial(construction.tubeMaterial).name}`;
  const charge =
    vessel.charge === undefined
      ? "amount not stated"
      : formatQuantity(vessel.charge, "kg", { digits: 2, plain: true });
  return [
    `${material}, bore ${mm(vessel.bore)}, heated over ${mm(vessel.heatedLength)}, ${mm(vessel.length)} from window to window`,
    `${medium.element}, ${charge}, weighed and loaded under ${vessel.gas === "N2" ? "inert gas" : vessel.gas}`,
    `${vessel.gas} at ${formatQuantity(vessel.gasPressure, "Pa", { digits: 3, plain: true })}${vessel.gasFilledAt === undefined ? " while hot" : `, filled at ${Math.round(vessel.gasFilledAt - 273.15)} °C`}; pump, gauge, relief valve`,
    `lamp (${path.source.kind}), level slit ${mm(path.levelSlit)}, collimator ${mm(path.collimatorFocalLength)}, lens ${mm(path.focalLength)}, plumb slit ${mm(path.plumbSlit)}, second collimator ${mm(path.secondCollimatorFocalLength)}, ${disperser}, camera lens ${mm(path.cameraFocalLength)}`,
    `camera, ${camera.columns} × ${camera.rows} pixels of ${mm(camera.pixel)}, exposure ${formatQuantity(camera.exposure, "s", { digits: 3, plain: true })}, raw files, a line lamp`,
    "thermocouples: metal (in a well), top wall, each window flange; logger or this table",
    "goggles, polycarbonate shields, heat gloves, metal-fire powder within reach, a second person",
  ];
}

function interlocks(setup: Setup): string[] {
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

function stopNow({ setup, vapour }: Forecast): string[] {
  const { wall } = setup.vessel;
  const id = setup.construction.tubeMaterial;
  const limit = id === undefined ? undefined : tubeMaterial(id).limit.value;
  const above = Math.min(wall.bottom + 20, limit ?? Infinity);
  return [
    `Metal above ${Math.round(above - 273.15)} °C (20 K over the plan${limit !== undefined && limit < wall.bottom + 20 ? ", and the limit of the tube" : ""}).`,
    `Pressure above ${formatQuantity(1.2 * vapour.field.pressure, "Pa", { digits: 3, plain: true })} (a fifth over the forecast), or rising while the temperature stands still.`,
    `Any window hotter than ${Math.round(wall.ends - 273.15 + 40)} °C, browned, crazed or wet.`,
    "Smoke, smell, hissing, a drop of water anywhere near the tube.",
    "Then: heater off at the switch, leave the gas in, step back. Never water.",
  ];
}

function alignment(setup: Setup): RunStep[] {
  const askew: Setup = { ...setup, path: { ...setup.path, levelSlitTilt: setup.path.levelSlitTilt + ASKEW } };
  return [
    {
      text: "Lamp imaged on the level slit; the slit level against a spirit level.",
      see: "An even bright bar on a card behind the slit.",
    },
    {
      text: "Image of the level slit sharp on the plumb slit, found with a card.",
      see: "A thin bright line across the plumb slit.",
    },
    {
      text: "Plumb slit square to the level slit, within 2 mrad.",
      see: "If the level slit leans, the cold line climbs along the spectrum: turn it until it runs level.",
      picture: {
        caption: `not yet: slit leaning by ${Math.round(1000 * ASKEW)} mrad`,
        image: runPicture(askew, true),
      },
    },
    {
      text: `Disperser so that ${nm(setup.path.centreWavelength)} nm (vacuum) falls on the middle of the picture; check with a line lamp.`,
      see: "Sharp lines of the line lamp over the whole height; note their columns.",
    },
    {
      text: "Camera's rows along the cold line, focus on the working colour.",
      see: "One thin level line, equally sharp from end to end.",
      picture: { caption: "cold line", image: runPicture(setup, true) },
    },
    {
      text: "Tube in, empty and cold.",
      see: "The cold line stays straight and where it was: bent windows show here.",
    },
  ];
}

/** From the room's temperature at the usual rate to the set one, with marks and what should be seen at each. */
function heating(setup: Setup): HeatRow[] {
  const { bottom, top } = setup.vessel.wall;
  const melting = meltingPoint(setup.medium.element);
  const marks: { at: number; mark: string; drawn: boolean }[] = [
    { at: ROOM, mark: "heater on", drawn: false },
    ...(melting > ROOM && melting < bottom
      ? [{ at: melting, mark: "metal melts: a burst of gas is likely, watch the gauge", drawn: false }]
      : []),
    { at: bottom - 90, mark: "", drawn: true },
    { at: bottom - 60, mark: "", drawn: true },
    { at: bottom - 30, mark: "", drawn: true },
    { at: bottom, mark: "set temperature: wait until it stands still for ten minutes", drawn: true },
  ];
  const quick = quickForecast();
  return marks
    .filter((each) => each.at >= ROOM)
    .sort((a, b) => a.at - b.at)
    .map(({ at, mark, drawn }) => {
      const share = (at - ROOM) / (bottom - ROOM);
      const topNow = at - (bottom - top) * share;
      const now = heatedTo(setup, at, topNow);
      return {
        time: (at - ROOM) / USUAL_RAMP.value,
        bottom: at,
        top: topNow,
        mark,
        see: at === ROOM ? "the cold line" : seen(quick(now)),
        ...(drawn ? { picture: runPicture(now, false) } : {}),
      };
    });
}

function heatedTo(setup: Setup, bottom: number, top: number): Setup {
  const { vessel } = setup;
  return {
    ...setup,
    vessel: { ...vessel, wall: { ...vessel.wall, bottom, top, ends: Math.min(vessel.wall.ends, bottom) } },
  };
}

function seen({ line, wavelength, halfGap, height, heightTimes, bridge }: Outcome): string {
  if (line === null || halfGap === null || height === null || wavelength === null) return "no line in view";
  if (halfGap === 0) return "the cold line, nothing dark yet";
  const gap = `gap at ${nm(wavelength)} nm, half-width ${formatQuantity(halfGap, "m", { digits: 2, plain: true })}`;
  const branches =
    (heightTimes ?? 0) < 1
      ? "branches not yet out of the line"
      : `branches ${formatQuantity(height, "m", { digits: 2, plain: true })} high, ${digits(heightTimes ?? 0, 2)} thicknesses`;
  return `${gap}; ${branches}${bridge === 0 ? "; the two gaps have met" : ""}`;
}

/** Total time to the set temperature, in words. */
export function heatingTime(sheet: RunSheet): string {
  return span(sheet.heating.at(-1)?.time ?? 0);
}
