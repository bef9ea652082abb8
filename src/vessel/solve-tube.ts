/** Gas temperature and vapour density in a round bore whose wall is given face by face. */
import { expm1 } from "../numerics/elementary/index.ts";
import type { PolarGrid } from "../numerics/polar-grid.ts";
import { BOLTZMANN } from "../reference/index.ts";
import { saturationPressure } from "../medium/pressure.ts";
import type { GridSize } from "./api.ts";
import { type Filling, LEAST_GAS, solveDiffusion, wallFraction } from "./diffusion.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { gasProperties, pairDiffusion } from "./gas.ts";
import { solveGasTemperature } from "./gas-temperature.ts";
import { unfold } from "./mirror.ts";
import { faceMeans, type WallMap } from "./wall.ts";
import { wetness } from "./wetness.ts";

/** Relative residual of both solutions; it balances the flow of metal through the wall to 1e-8 of the throughput. */
export const TOLERANCE = 1e-9;

/**
 * As `solveVapour` for a wall given face by face on `part`: either the whole grid or its first half, wall and wet part
 * then being alike on both sides of mid-length. `input.windowTemperature`, where given, replaces the wall map's own.
 */
export function solveTube(
  input: TubeInput,
  grid: PolarGrid,
  part: PolarGrid,
  given: WallMap,
  previous?: VapourField,
  tolerance = TOLERANCE,
): VapourField {
  const wall = input.windowTemperature === undefined ? given : { ...given, window: input.windowTemperature };
  const halved = part !== grid;
  const warm = previous !== undefined && sameSize(previous.size, grid) ? previous : undefined;
  const gas = gasProperties(input.gas);
  const saturated = new Map<number, number>();
  const saturation = (t: number): number => {
    let p = saturated.get(t);
    if (p === undefined) {
      p = saturationPressure(input.element, t, input.pressureEquation);
      saturated.set(t, p);
    }
    return p;
  };
  const heat = solveGasTemperature(part, wall, gas, [false, halved], tolerance, warm?.heatPotential);
  const wet = input.wet === undefined ? undefined : wetness(input.wet, part);
  const vapour = solveDiffusion(
    part,
    wall,
    saturation,
    heat,
    pairDiffusion(input.element, gas),
    filling(input, part),
    tolerance,
    warm?.vapourPotential,
    wet,
  );

  const pressure = vapour.pressure;
  const n = heat.cells.length;
  const moleFraction = new Float64Array(n);
  const density = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    const x = -expm1(-vapour.potential[c]);
    moleFraction[c] = x;
    density[c] = (x * pressure) / (BOLTZMANN * heat.cells[c]);
  }
  const faces = part.angular * part.axial;
  const wallMoleFraction = new Float64Array(faces);
  const wallDensity = new Float64Array(faces);
  if (vapour.wallPotential === undefined) {
    faceMeans(wall, wallMoleFraction, (t) => wallFraction(saturation(t), pressure));
    faceMeans(wall, wallDensity, (t) => (wallFraction(saturation(t), pressure) * pressure) / (BOLTZMANN * t));
  } else {
    vapour.wallPotential.forEach((psi, w) => {
      wallMoleFraction[w] = -expm1(-psi);
      wallDensity[w] = (wallMoleFraction[w] * pressure) / (BOLTZMANN * heat.wall[w]);
    });
  }

  const cells = (a: Float64Array): Float64Array => (halved ? unfold(a, part.radial * part.angular) : a);
  const walls = (a: Float64Array): Float64Array => (halved ? unfold(a, part.angular) : a);
  const ranged = (a: Float64Array): Float64Array => (halved ? unfold(a, part.angular * wall.count) : a);
  return {
    input,
    size: { radial: grid.radial, angular: grid.angular, axial: grid.axial },
    grid,
    wall: { ...wall, temperature: ranged(wall.temperature), share: ranged(wall.share) },
    ...(wet === undefined ? {} : { wet: walls(wet.share) }),
    pressure,
    regime: vapour.highest >= pressure * (1 - LEAST_GAS) ? "heat-pipe" : "diffusion",
    gasTemperature: cells(heat.cells),
    moleFraction: cells(moleFraction),
    density: cells(density),
    heatPotential: cells(heat.potential),
    vapourPotential: cells(vapour.potential),
    wallTemperature: walls(heat.wall),
    wallDensity: walls(wallDensity),
    wallMoleFraction: walls(wallMoleFraction),
    evaporation: walls(vapour.evaporation),
    convergence: {
      heatCycles: heat.cycles,
      vapourCycles: vapour.cycles,
      heatResidual: heat.residual,
      vapourResidual: vapour.residual,
    },
  };
}

function filling(input: TubeInput, part: PolarGrid): Filling {
  if (input.gasFilledAt === undefined) return { pressure: input.gasPressure };
  const length = part.zFaces[part.axial] - part.zFaces[0];
  const volume = Math.PI * part.radius * part.radius * length;
  return { gasAtoms: (input.gasPressure * volume) / (BOLTZMANN * input.gasFilledAt) };
}

function sameSize(a: GridSize, b: GridSize): boolean {
  return a.radial === b.radial && a.angular === b.angular && a.axial === b.axial;
}
