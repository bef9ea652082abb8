/** What could be shown with this bench: every metal and line side by side, each at the heat that suits it. */
import {
  closedFormGap,
  meltingPoint,
  saturatedDensity,
  saturationPressure,
  type VapourState,
} from "../medium/index.ts";
import { imageScale, spectralMap } from "../path/index.ts";
import { Refusal } from "../quantity/index.ts";
import { type Line, linesOf } from "../reference/index.ts";
import { HEATABLE, type Setup, metalOf } from "../setup/index.ts";
import { cautionsFor } from "./cautions.ts";
import { wavelengthBlur } from "./curve-findings.ts";
import { gentleTop } from "./gentle-top.ts";
import { type Outcome, quickForecast, type QuickOptions } from "./quick.ts";
import { celsiusText } from "./words.ts";

export interface ElementRow {
  readonly element: string;
  /** id of the line */
  readonly line: string;
  /** vacuum, m */
  readonly wavelength: number;
  readonly colour: string;
  /** null where the bench cannot show it, see `remark` */
  readonly shown: {
    /** metal and top, K */
    readonly bottom: number;
    readonly top: number;
    readonly outcome: Outcome;
  } | null;
  /** fields that put this line on the bench, text as in the setup file; empty where it cannot be shown */
  readonly set: Readonly<Record<string, string>>;
  /** codes of the cautions that this metal brings */
  readonly hazards: readonly string[];
  /** what stands in the way, or what to know; empty where nothing */
  readonly remark: string;
}

/** Half-gap in blurs that the heat is chosen for: common practice, 1 to 2. */
const WANTED = 1.5;
const SHORTEST = 380e-9;
const LONGEST = 1000e-9;
/** Lines further apart than this are shown in pictures of their own, m. */
const PAIR = 6e-9;

const METAL_HAZARDS: ReadonlySet<string> = new Set([
  "alkali-and-water",
  "metal-and-water",
  "superoxide",
  "barium",
  "zinc-fume",
  "nitride",
  "metal-fire",
]);

/**
 * One row for each line from 380 to 1000 nm, weak ones included, of every metal that may be heated; pairs count once. Each
 * is put in the middle of the picture and heated until its half-gap is 1.5 times the blur, with the warmest top that keeps
 * the bend. Everything else stays as the setup has it, less what was entered by hand for its own metal.
 */
export function compareElements(
  setup: Setup,
  options: QuickOptions = {},
  progress?: (done: number, of: number) => void,
): ElementRow[] {
  const quick = quickForecast(options);
  return HEATABLE.flatMap((element, i) => {
    progress?.(i, HEATABLE.length);
    const lines = linesOf(element)
      .filter((line) => line.wavelength > SHORTEST && line.wavelength < LONGEST && line.lowerEnergy === 0)
      .sort((a, b) => a.wavelength - b.wavelength);
    return groups(lines).map((group) => row(setup, element, group, quick));
  });
}

/** Lines that go on one picture. */
function groups(lines: readonly Line[]): Line[][] {
  const found: Line[][] = [];
  for (const line of lines) {
    const last = found.at(-1);
    if (last !== undefined && line.wavelength - last[last.length - 1].wavelength < PAIR) last.push(line);
    else found.push([line]);
  }
  return found;
}

function row(
  setup: Setup,
  element: string,
  group: readonly Line[],
  quick: ReturnType<typeof quickForecast>,
): ElementRow {
  const strongest = group.reduce((a, b) => (b.oscillatorStrength > a.oscillatorStrength ? b : a));
  const middle = (group[0].wavelength + group[group.length - 1].wavelength) / 2;
  const changed: Setup = {
    ...setup,
    medium: {
      ...metalOf(setup, "a table of metals"),
      element,
      overrides: { pressureEquation: setup.vessel.pressureEquation ?? "alcock-practical" },
    },
    vessel: { ...setup.vessel, element },
    path: { ...setup.path, centreWavelength: middle, disperser: turnedTo(setup, middle) },
  };
  const common = {
    element,
    line: strongest.id,
    wavelength: strongest.wavelength,
    colour: colourOf(strongest.wavelength),
    hazards: cautionsFor(changed).flatMap((caution) =>
      METAL_HAZARDS.has(caution.code) ? [caution.code] : [],
    ),
  };
  try {
    const map = spectralMap(changed.path);
    const blur = wavelengthBlur(
      changed,
      { map, scale: imageScale(changed.path, map) },
      strongest.wavelength,
    ).width;
    const first = heatFor(changed, strongest, WANTED * blur);
    const tried = at(changed, first, quick);
    // The closed form leaves out the tube's ends and the Doppler core: once more with what was missed.
    const missed = (WANTED * blur) / Math.max(tried.outcome.halfGap ?? 0, 0.2 * blur);
    const shown = at(changed, heatFor(changed, strongest, WANTED * blur * missed), quick);
    const share =
      saturationPressure(element, shown.bottom, setup.vessel.pressureEquation) / setup.vessel.gasPressure;
    return {
      ...common,
      shown,
      set: settingsFor(changed, shown),
      remark: remarkOf(changed, shown.outcome, share, meltingPoint(element) < shown.top),
    };
  } catch (error) {
    if (error instanceof Refusal)
      return {
        ...common,
        shown: null,
        set: {},
        remark: error.record.code === "too-weak" ? error.record.received : error.message,
      };
    throw error;
  }
}

/** What differs from the open bench. A wall that follows from a heater keeps its heater. */
function settingsFor(
  { path, vessel, shell }: Setup,
  { bottom, top }: { readonly bottom: number; readonly top: number },
): Record<string, string> {
  const nanometres = (wavelength: number): string => `${(wavelength * 1e9).toFixed(2)} nm`;
  return {
    "medium.element": vessel.element,
    "path.centreWavelength": nanometres(path.centreWavelength),
    ...(path.disperser.kind === "direct-vision"
      ? { "path.disperser.undeviated": nanometres(path.disperser.undeviated) }
      : {}),
    ...(shell === undefined
      ? {
          "vessel.bottom": celsiusText(bottom),
          "vessel.top": celsiusText(top),
          "vessel.ends": celsiusText(Math.min(vessel.wall.ends, top)),
        }
      : {}),
  };
}

/** A direct-vision prism is turned so that the colour goes straight through; gratings and scales stay. */
function turnedTo(setup: Setup, wavelength: number): Setup["path"]["disperser"] {
  const { disperser } = setup.path;
  return disperser.kind === "direct-vision"
    ? { ...disperser, undeviated: Math.min(disperser.undeviated, Math.max(wavelength, 589.3e-9)) }
    : disperser;
}

function at(
  setup: Setup,
  bottom: number,
  quick: ReturnType<typeof quickForecast>,
): NonNullable<ElementRow["shown"]> {
  const top = gentleTop(setup.vessel, bottom);
  const { wall } = setup.vessel;
  const heated: Setup = {
    ...setup,
    vessel: { ...setup.vessel, wall: { ...wall, bottom, top, ends: Math.min(wall.ends, top) } },
  };
  return { bottom, top, outcome: quick(heated) };
}

/** Temperature, K, at which the square-root law gives this half-gap with N = N_sat/2 over the heated length; bisection. */
function heatFor(setup: Setup, line: Line, halfGap: number): number {
  const { vessel } = setup;
  const { structure } = metalOf(setup, "a table of metals");
  const gapAt = (bottom: number): number => {
    const density = saturatedDensity(vessel.element, bottom, vessel.pressureEquation) / 2;
    const state: VapourState = {
      element: vessel.element,
      density,
      temperature: bottom - 60,
      gas: { species: vessel.gas, pressure: vessel.gasPressure },
      structure,
    };
    return closedFormGap(state, line.id, density * vessel.heatedLength);
  };
  let low = 300;
  let high = 1600;
  if (gapAt(high) < halfGap) {
    throw new Refusal({
      code: "too-weak",
      field: line.id,
      received: "a line too weak for this bench",
      expected: "a gap that opens below 1600 K",
    });
  }
  while (high - low > 0.1) {
    const middle = (low + high) / 2;
    if (gapAt(middle) < halfGap) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function remarkOf(setup: Setup, outcome: Outcome, share: number, runsBack: boolean): string {
  const remarks: string[] = [];
  if (share > 0.3)
    remarks.push(`needs more gas: the metal makes ${Math.round(100 * share)} % of the pressure`);
  if ((outcome.gapTimes ?? 0) < 0.7) remarks.push("gap not resolved");
  if (outcome.pairTimes !== null && outcome.pairTimes < 4) remarks.push("pair not resolved");
  if (outcome.wavelength !== null && outcome.wavelength > 700e-9)
    remarks.push("camera without infrared filter");
  if (!runsBack) remarks.push("settles as a solid: turn the tube between runs");
  if (setup.vessel.gas === "N2") remarks.push("nitrogen: see the cautions");
  return remarks.join("; ");
}

/** The usual names of colours: common practice, no source. */
function colourOf(wavelength: number): string {
  const nm = wavelength * 1e9;
  const names: readonly (readonly [number, string])[] = [
    [430, "violet"],
    [490, "blue"],
    [560, "green"],
    [595, "yellow"],
    [620, "orange"],
    [700, "red"],
  ];
  return names.find(([end]) => nm < end)?.[1] ?? "infrared";
}
