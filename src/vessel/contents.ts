/** Vessels whose contents are stated (sealed cell, salted flame, hollow prism) in the form that everything else takes. */
import { log1p, sin } from "../numerics/elementary/index.ts";
import { cellCount, sectorAngle } from "../numerics/polar-grid.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { BeamColumns, Contents, GridSize, VesselInput } from "./api.ts";
import { LEAST_GAS } from "./diffusion.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { gridSize, tubeGrid } from "./grid.ts";
import { cellColumns, flameColumns } from "./other-vessels.ts";
import { prismColumns } from "./prism-columns.ts";

/** Exact columns of stated contents at heights in m, by `cellColumns`, `flameColumns` and `prismColumns`. */
export function statedColumns(input: TubeInput, contents: Contents, heights: Float64Array): BeamColumns {
  switch (contents.kind) {
    case "cell":
      return cellColumns({ ...contents, ...common(input), pathLength: input.heatedLength }, heights);
    case "flame":
      return flameColumns({ ...contents, depth: input.heatedLength }, heights);
    case "prism":
      return prismColumns(contents, heights);
  }
}

const common = ({ element, pressureEquation }: TubeInput) => ({
  element,
  ...(pressureEquation === undefined ? {} : { pressureEquation }),
});

/** Temperature of stated contents, K. */
function statedTemperature(contents: Contents): number {
  return contents.kind === "cell" ? contents.body : contents.temperature;
}

/**
 * Stated contents as a field on a grid, alike along the light: for sections, local numbers and every answer that reads
 * a field. Nothing evaporates. The pressure is the gas's own plus the metal's. Refuses a cell colder than its side arm
 * and more atoms than the pressure holds.
 */
export function statedField(input: VesselInput, contents: Contents, wish: GridSize): VapourField {
  const size = gridSize(wish);
  const grid = tubeGrid(input, size);
  const temperature = statedTemperature(contents);
  const n = cellCount(grid);
  const faces = grid.angular * grid.axial;
  const density = new Float64Array(n);
  const wallDensity = new Float64Array(faces);
  const rings = Float64Array.from({ length: grid.radial }, (_, i) => ((i + 0.5) * grid.radius) / grid.radial);
  for (let j = 0; j < grid.angular; j++) {
    const sine = sin(sectorAngle(grid, j));
    const line = densityAt(input, contents, Float64Array.of(...rings, grid.radius * (1 - 1e-12)), sine);
    for (let k = 0; k < grid.axial; k++) {
      density.set(line.subarray(0, grid.radial), (k * grid.angular + j) * grid.radial);
      wallDensity[k * grid.angular + j] = line[grid.radial];
    }
  }
  const metal = density.reduce((most, d) => Math.max(most, d), 0) * BOLTZMANN * temperature;
  const pressure =
    contents.kind === "cell"
      ? Math.max(input.gasPressure + metal, metal / (1 - LEAST_GAS))
      : input.gasPressure;
  // A liquid holds its dye whatever a gas of as many molecules would press.
  if (contents.kind === "flame" && !(metal < pressure)) {
    throw new Refusal({
      code: "denser-than-its-gas",
      field: "vessel.flameDensity",
      received: `atoms that press with ${metal.toPrecision(3)} Pa`,
      expected: `less than the flame's gas, vessel.gasPressure, ${pressure} Pa`,
    });
  }
  const share = (d: number): number =>
    contents.kind === "prism" ? 0 : Math.min(1 - LEAST_GAS, (d * BOLTZMANN * temperature) / pressure);
  const level = (count: number): Float64Array => new Float64Array(count).fill(temperature);
  return {
    input,
    size,
    grid,
    wall: {
      count: 1,
      temperature: level(faces),
      share: new Float64Array(faces).fill(1),
      window: temperature,
    },
    pressure,
    regime: "stated",
    gasTemperature: level(n),
    moleFraction: density.map(share),
    density,
    heatPotential: new Float64Array(n),
    vapourPotential: density.map((d) => -log1p(-share(d))),
    wallTemperature: level(faces),
    wallDensity,
    wallMoleFraction: wallDensity.map(share),
    evaporation: new Float64Array(faces),
    convergence: { heatCycles: 0, vapourCycles: 0, heatResidual: 0, vapourResidual: 0 },
  };
}

/** Density along one radius, m⁻³. */
function densityAt(input: VesselInput, contents: Contents, radii: Float64Array, sine: number): Float64Array {
  const { effectiveDensity } = statedColumns(
    input,
    contents,
    radii.map((r) => r * sine),
  );
  return effectiveDensity;
}
