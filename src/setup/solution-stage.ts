/** First stage of the forward chain for a hollow prism with dye: how its wedge turns and dims the light, wavelength by wavelength. */
import { exp } from "../numerics/elementary/index.ts";
import {
  airRefractivityOf,
  completeResponse,
  glassIndexOf,
  type PerAtom,
  type Solution,
  solutionMedium,
  solventIndex,
} from "../medium/index.ts";
import { CubicSpline } from "../numerics/cubic-spline.ts";
import { beamStrips, fresnelTransmission } from "../path/index.ts";
import type { CurveBundle } from "../picture/index.ts";
import { Refusal } from "../quantity/index.ts";
import {
  fromEdge,
  leastIncidence,
  type PrismContents,
  prismColumns,
  solveVapour,
  throughWedge,
  vesselNumbers,
  type WedgePassage,
} from "../vessel/index.ts";
import type { Setup, SolutionInput } from "./api.ts";
import { AIR } from "./assemble-prism.ts";
import { BEAM_SLICES, type ForecastOptions, type SolutionOptics, type SolutionStage } from "./stages.ts";

/** The prism's field is level and stated; what the light meets comes from `solutionOptics`. */
export function solutionStage(
  setup: Setup,
  medium: SolutionInput,
  prism: PrismContents,
  options: ForecastOptions = {},
): SolutionStage {
  const field = solveVapour(setup.vessel, options.grid);
  const slices = options.slices ?? BEAM_SLICES;
  const { heights, weights } = beamStrips(setup.path, slices);
  const optics = solutionOptics(medium, prism, setup.path.centreWavelength, heights, weights);
  const { pathAtEdge, pathPerDistance } = optics.aimed;
  const columns = prismColumns(prism, heights, pathAtEdge, pathPerDistance);
  const m = (slices - 1) / 2;
  return {
    field,
    columns,
    weights,
    numbers: vesselNumbers(field, setup.path.beamHeight),
    middle: {
      columnDensity: columns.columnDensity[m],
      columnGradient: columns.columnGradient[m],
      gasColumnGradient: 0,
    },
    solution: optics,
  };
}

/** Share of a wavelength over which the slope of the index is taken. */
const STEP = 1e-4;
/** Points of the table from which index and absorption are read again: a band is many of them wide. */
const NODES = 385;

/** The medium with its index and absorption tabulated once, by a cubic over wavelength: Kramers–Kronig is dear. */
function tabulated(medium: Solution, centre: number): Solution {
  const from = Math.max(medium.wavelengthMin, 0.3 * centre);
  const to = Math.min(medium.wavelengthMax, 3 * centre);
  const nodes = Float64Array.from({ length: NODES }, (_, i) => from + ((to - from) * i) / (NODES - 1));
  const table = medium.at(nodes);
  const spline = (values: Float64Array): ((at: Float64Array) => Float64Array) => {
    const curve = new CubicSpline(nodes, values);
    return (at) => at.map((wavelength) => curve.value(wavelength));
  };
  const index = spline(table.index);
  const solvent = spline(table.solvent);
  const absorption = spline(table.absorption);
  const outsideError = spline(table.outsideError);
  return {
    ...medium,
    at: (wavelengths) => ({
      index: index(wavelengths),
      solvent: solvent(wavelengths),
      absorption: absorption(wavelengths).map((alpha) => Math.max(0, alpha)),
      outsideError: outsideError(wavelengths),
    }),
  };
}

function solutionOptics(
  input: SolutionInput,
  prism: PrismContents,
  centre: number,
  heights: Float64Array,
  weights: Float64Array,
): SolutionOptics {
  const exact = solutionMedium(input.solution);
  const medium = input.solution.dye.kind === "absorbance" ? tabulated(exact, centre) : exact;
  const thin = airRefractivityOf({ temperature: prism.temperature, pressure: AIR });
  const wall = glassIndexOf(input.wallGlass, "vessel.wallGlass");
  const away = prism.edgeAbove ? -1 : 1;
  const solvent = solventIndex(input.solution.solvent, prism.temperature).index(centre);
  const incidence = prism.incidence ?? leastIncidence(prism.apex, solvent / (1 + thin(centre)));
  const wedge = { ...prism, incidence };
  const passageAt = (wavelength: number, index: number): WedgePassage | undefined => {
    const air = 1 + thin(wavelength);
    return throughWedge(wedge, index / air, wall(wavelength) / air);
  };
  const aimed = passageAt(centre, solvent);
  if (aimed === undefined) {
    throw new Refusal({
      code: "no-light-through-prism",
      field: "vessel.apex",
      received: `${prism.apex} rad, at which the light is totally reflected`,
      expected: "an apex angle and an incidence at which light passes both faces",
    });
  }
  const aim = away * aimed.deviation;
  return {
    medium,
    incidence,
    aimed,
    faces: outerFaces(wall(centre) / (1 + thin(centre)), incidence, aimed.deviation + prism.apex - incidence),
    aim,
    perMolecule(wavelengths): PerAtom {
      const { index, solvent, absorption } = medium.at(within(medium, wavelengths));
      const { density } = medium;
      return {
        refractivityPerDensity: index.map((n, i) => (density > 0 ? (n - solvent[i]) / density : 0)),
        crossSection: absorption.map((alpha) => (density > 0 ? alpha / density : 0)),
      };
    },
    dyed(wavelengths): CurveBundle {
      const { index, absorption } = medium.at(within(medium, wavelengths));
      const n = wavelengths.length;
      const deflection = new Float64Array(heights.length * n);
      const transmission = new Float64Array(heights.length * n);
      for (let i = 0; i < n; i++) {
        const passage = passageAt(wavelengths[i], index[i]);
        // Totally reflected light is dark; its angle then says nothing.
        if (passage === undefined) continue;
        for (let h = 0; h < heights.length; h++) {
          const path = passage.pathAtEdge + passage.pathPerDistance * fromEdge(prism, heights[h]);
          deflection[h * n + i] = away * passage.deviation - aim;
          transmission[h * n + i] = exp(-absorption[i] * Math.max(0, path));
        }
      }
      return { wavelengths, weights, deflection, transmission };
    },
    response(wavelengths) {
      const { index, absorption } = medium.at(within(medium, wavelengths));
      const held = (w: number): number => Math.min(medium.wavelengthMax, Math.max(medium.wavelengthMin, w));
      const above = wavelengths.map((w) => held(w * (1 + STEP)));
      const below = wavelengths.map((w) => held(w * (1 - STEP)));
      const up = medium.at(above).index;
      const down = medium.at(below).index;
      const slope = index.map((_, i) => (up[i] - down[i]) / (above[i] - below[i]));
      return completeResponse(
        wavelengths,
        index.map((n) => n - 1),
        absorption,
        slope,
      );
    },
    clear(wavelengths): CurveBundle {
      const { solvent } = medium.at(within(medium, wavelengths));
      const passages = Array.from(wavelengths, (each, i) => passageAt(each, solvent[i]));
      return {
        wavelengths,
        weights: Float64Array.of(1),
        deflection: Float64Array.from(passages, (each) =>
          each === undefined ? 0 : away * each.deviation - aim,
        ),
        transmission: Float64Array.from(passages, (each) => (each === undefined ? 0 : 1)),
      };
    },
  };
}

/** Share that passes both outer faces of the walls, Fresnel's equations; leaving is entering the other way round. */
function outerFaces(glass: number, incidence: number, emergence: number): number {
  return (
    fresnelTransmission(1, glass, Math.abs(incidence)) * fresnelTransmission(1, glass, Math.abs(emergence))
  );
}

/** Refuses a picture of which nothing is known of the dye. */
function within(medium: Solution, wavelengths: Float64Array): Float64Array {
  const nm = (metres: number): string => `${(metres * 1e9).toFixed(1)} nm`;
  const first = wavelengths[0];
  const last = wavelengths[wavelengths.length - 1];
  if (first >= medium.wavelengthMin && last <= medium.wavelengthMax) return wavelengths;
  throw new Refusal({
    code: "dye-out-of-range",
    field: "medium.absorbance",
    received: `dye and solvent known from ${nm(medium.wavelengthMin)} to ${nm(medium.wavelengthMax)}`,
    expected: `both known over all that the camera sees, ${nm(first)} to ${nm(last)}`,
  });
}
