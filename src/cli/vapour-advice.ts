/** The adviser's answer on the command line: how cool the top need be, and whether air does it. */
import type { Setup } from "../setup/index.ts";
import {
  type Cooling,
  coolingAdvice,
  type CoolingRow,
  fogLayer,
  type ShellInput,
  type TopAdvice,
  topAdvice,
} from "../vessel/index.ts";
import { Refusal } from "../quantity/index.ts";
import { digits, table } from "./output.ts";

/** Supersaturations above which drops might come into being, tried in the finer model. */
const THRESHOLDS = [2, 5, 20];

/** Wall, lagging and room of a tube whose setup gives thermocouples instead of a heater: usual ones, invented. */
function usualShell({ vessel, construction }: Setup): ShellInput {
  return {
    bore: vessel.bore,
    heatedLength: vessel.heatedLength,
    length: vessel.length,
    material: construction.tubeMaterial ?? "steel-304",
    thickness: 2e-3,
    hotStrip: vessel.wall.hotStrip,
    heater: { kind: "electric" },
    power: 200,
    insulation: { material: "ceramic-fibre", thickness: 0.03 },
    topCooling: { kind: "still-air" },
    endCooling: { kind: "still-air" },
    room: 293.15,
  };
}

/** Refuses a cell, a flame or a prism to an option that is about a tube's wall. */
export function needsTube({ vessel }: Setup, option: string): void {
  if (vessel.contents === undefined) return;
  throw new Refusal({
    code: "no-tube",
    field: option,
    received: `a ${vessel.contents.kind}, which has no wall between hot and cold`,
    expected: "a setup whose vessel.kind is tube",
  });
}

export interface Advice {
  readonly top: TopAdvice;
  readonly fog: readonly {
    threshold: number;
    fogged: boolean;
    densityShare: number;
    gradientShare: number;
  }[];
  readonly cooling: readonly CoolingRow[];
  /** true where some cooling by air, fins included, is enough */
  readonly airIsEnough: boolean;
  /** whose wall, lagging and room the cooling was computed for */
  readonly shell: "the setup's" | "a usual one";
}

/** Solves the tube a dozen times and its shell some fifty times: seconds. Refuses a vessel that is no tube. */
export function adviceFor(setup: Setup): Advice {
  needsTube(setup, "--advise");
  const { vessel, path } = setup;
  const top = topAdvice(vessel, path.beamHeight);
  const { bottom } = vessel.wall;
  const cooling = coolingAdvice(setup.shell ?? usualShell(setup), bottom, top.warmestTop);
  return {
    top,
    fog: THRESHOLDS.map((threshold) => {
      const { fogged, densityShare, gradientShare } = fogLayer({
        ...vessel,
        bottom,
        top: top.warmestTop,
        threshold,
      });
      return { threshold, fogged, densityShare, gradientShare };
    }),
    cooling,
    airIsEnough: cooling.some((row) => row.cooling.kind !== "liquid" && row.enough),
    shell: setup.shell === undefined ? "a usual one" : "the setup's",
  };
}

export function adviceWords({ top, fog, cooling, airIsEnough, shell }: Advice): string {
  const celsius = (kelvin: number | null): string =>
    kelvin === null ? "not reached" : `${Math.round(kelvin - 273.15)} °C`;
  const rows = [
    ["top", "share of the largest gradient", "supersaturation"],
    ...top.rows.map((row) => [
      celsius(row.top),
      `${Math.round(100 * row.share)} %`,
      digits(row.supersaturation, 3),
    ]),
  ];
  const cools = [
    [`top cooled by (${shell} shell)`, "heater", "top", "cool enough"],
    ...cooling.map((row) => [
      said(row.cooling),
      row.power === null ? "beyond 100 kW" : `${digits(row.power, 3)} W`,
      celsius(row.top),
      row.enough ? "yes" : "no",
    ]),
  ];
  const clear = fog.filter((each) => !each.fogged).map((each) => each.threshold);
  return [
    `a top at ${celsius(top.warmestTop)}, ${Math.round(top.difference)} K below the metal, keeps 97 % of the largest gradient at ${digits(top.supersaturation, 3)} times saturation${top.clear ? ": no smoke is to be expected" : ": smoke may form even there"}`,
    table(rows),
    table(cools),
    airIsEnough
      ? "air is enough to cool the top; liquid on the tube's body is not needed for the bend"
      : "none of the ways by air cools the top enough",
    clear.length === fog.length
      ? `a finer model with drops stays clear there at every threshold tried (${THRESHOLDS.join(", ")} times saturation)`
      : `a finer model with drops stays clear there at thresholds of ${clear.join(", ") || "none of those tried"} times saturation and fogs below`,
    top.confidence,
  ].join("\n");
}

function said(cooling: Cooling): string {
  switch (cooling.kind) {
    case "still-air":
      return "air at rest";
    case "fins":
      return `fins, ${cooling.areaFactor} times the area`;
    case "blown-air":
      return `air at ${cooling.speed} m/s`;
    case "liquid":
      return `a loop of ${cooling.coolant}`;
    case "fixed":
      return "a stated coefficient";
  }
}
