/**
 * Geometric multigrid for  ∇·(κ ∇u) = 0  in a round bore: solves  Σ_faces c (u_neighbour − u) + f = 0  on a polar grid.
 *
 * Relaxation by whole circles near the axis and whole radii outside, coloured so that each solves against fresh
 * neighbours; sums of residuals down, linear interpolation up (through the axis to the opposite sector); slices are
 * halved only while their coupling is not the weakest; Cholesky at the bottom. Solutions that come down too slowly (a
 * narrow held strip) go on with two relaxations and conjugate directions. Memory: 6 doubles an unknown and level plus
 * the closing columns of the circles, together below 9 an unknown, and 1.5 for the directions where they were needed.
 */
import { createDirections, type Directions, takeBestStep } from "./multigrid-accelerate.ts";
import { type BandedCholesky, createBanded, factorBanded, solveBanded } from "./banded-cholesky.ts";
import { axialWeights, chooseHalving, coarsen, coarsenConductances } from "./multigrid-coarsen.ts";
import { createLevel, diagonal, factorLines, type Level } from "./multigrid-level.ts";
import { relaxCircles, relaxRadii } from "./multigrid-relax.ts";
import {
  type AxialWeights,
  type Halving,
  prolongCorrection,
  restrictResidual,
} from "./multigrid-transfer.ts";
import type { PolarGrid } from "./polar-grid.ts";

export interface MultigridResult {
  /** V-cycles used; the last stops after its first relaxation */
  readonly cycles: number;
  /** ‖f − A u‖ / ‖f‖ at the end, 1 */
  readonly residual: number;
}

/** The cycles allowed did not suffice. */
export class NotConverged extends Error {}

/** A solution whose pace does not lead to this residual in so many cycles is helped; a third below 1e-8, as paces slacken. */
const PROMISED = { cycles: 12, residual: 3e-9 };

/** True where the pace of the last cycle does not lead to what is promised. */
function tooSlow(residual: number, before: number, cycles: number): boolean {
  return residual * (residual / before) ** (PROMISED.cycles - cycles) > PROMISED.residual;
}

export class PolarMultigrid {
  readonly grid: PolarGrid;
  /** finest level: fill cr, cp, cz and f, then call `prepare` */
  readonly finest: Level;
  /** the unknowns of the finest level without their margins, length n */
  readonly solution: Float64Array;
  private readonly levels: Level[];
  private readonly halvings: Halving[] = [];
  private readonly weights: AxialWeights[] = [];
  private readonly bottom: BandedCholesky;
  private readonly scratch: Float64Array;
  private patchy = false;
  /** true from the cycle on in which a solution falls behind what is promised */
  private slow = false;
  /** held once a solution was slow */
  private directions: Directions | undefined;

  /** Allocates everything. `heldEnds` says for each end (first, last) whether values are held there or it is closed. */
  constructor(grid: PolarGrid, heldEnds: readonly [boolean, boolean]) {
    const { radial, angular, axial } = grid;
    if (radial < 2 || axial < 2 || angular < 4 || angular % 2 !== 0) {
      throw new Error(`grid ${radial} × ${angular} × ${axial} is too small or has an odd number of sectors`);
    }
    this.grid = grid;
    this.finest = createLevel(radial, angular, axial, grid.zFaces);
    this.levels = [this.finest];
    for (let level = this.finest; ; ) {
      const halving = chooseHalving(level, grid.radius);
      if (halving === undefined) break;
      const next = coarsen(level, halving);
      this.weights.push(axialWeights(level, next, heldEnds));
      this.halvings.push(halving);
      this.levels.push(next);
      level = next;
    }
    const last = this.levels[this.levels.length - 1];
    const plane = last.radial * last.angular;
    this.bottom = createBanded(plane * last.axial, plane);
    this.scratch = new Float64Array(radial);
    const margin = radial * angular;
    this.solution = this.finest.u.subarray(margin, margin + radial * angular * axial);
  }

  /** Doubles held by the solver. */
  get memory(): number {
    let sum = this.bottom.lower.length + this.scratch.length;
    for (const level of this.levels) {
      sum += level.cr.length + level.cp.length + level.cz.length + level.u.length + level.f.length;
      sum += level.pivot.length + level.closing.length;
    }
    if (this.directions !== undefined) sum += this.directions.step.length + 0.5 * this.directions.last.length;
    return sum;
  }

  /**
   * Carries changed coefficients of the finest level down to all others. Needs some held boundary.
   * @param patchy true where values are held on part of the wall only, or behind it
   */
  prepare(patchy = false): void {
    this.patchy = patchy;
    for (let l = 0; l < this.levels.length; l++) {
      if (l > 0) coarsenConductances(this.levels[l - 1], this.levels[l], this.halvings[l - 1], patchy);
      if (l < this.levels.length - 1) factorLines(this.levels[l]);
    }
    this.factorBottom();
  }

  /**
   * V-cycles from what stands in `solution` until the relative residual is ≤ tolerance: 6 to 12 of them to 1e-8
   * (bench/campaign/multigrid-cycles.ts). Throws NotConverged when maxCycles do not suffice, as for a disc a thousand times wider
   * than long on a fine grid, whose residual stays above that by rounding alone.
   */
  solve(tolerance: number, maxCycles = 200): MultigridResult {
    const { f } = this.finest;
    let square = 0;
    for (let c = 0; c < f.length; c++) square += f[c] * f[c];
    if (square === 0) {
      this.solution.fill(0);
      return { cycles: 0, residual: 0 };
    }
    if (this.levels.length === 1) {
      this.solveBottom();
      return { cycles: 0, residual: 0 };
    }
    let residual = Infinity;
    let directions: Directions | undefined;
    this.slow = false;
    for (let cycles = 1; cycles <= maxCycles; cycles++) {
      const before = residual;
      directions?.step.set(this.finest.u);
      residual = Math.sqrt(this.descend(0) / square);
      if (residual <= tolerance) return { cycles, residual };
      this.ascend(0);
      if (directions !== undefined) takeBestStep(this.finest, directions);
      else if (cycles > 1 && tooSlow(residual, before, cycles)) directions = this.hasten();
    }
    throw new NotConverged(`multigrid stands at a residual of ${residual} after ${maxCycles} cycles`);
  }

  /** From the next cycle on everything is relaxed twice, and steps are taken along conjugate directions. */
  private hasten(): Directions {
    this.slow = true;
    this.directions ??= createDirections(this.finest);
    this.directions.last.fill(0);
    return this.directions;
  }

  /** Relaxes a level and hands its residual down; gives the residual's square. */
  private descend(l: number): number {
    this.relax(l);
    return restrictResidual(this.levels[l], this.levels[l + 1], this.halvings[l]);
  }

  /** Solves the level below for the residual handed down, adds the correction and relaxes again. */
  private ascend(l: number): void {
    if (l + 1 === this.levels.length - 1) {
      this.solveBottom();
    } else {
      this.descend(l + 1);
      this.ascend(l + 1);
    }
    prolongCorrection(
      this.levels[l],
      this.levels[l + 1],
      this.halvings[l],
      this.weights[l],
      this.scratch,
      this.patchy,
    );
    const { radial, angular } = this.levels[l];
    if (l > 0 || this.halvings[0].axial > 1 || angular >= 2 * radial) {
      this.relax(l);
    } else {
      // Here the relaxation at the start of the next cycle does the circles' work as well (bench/vessel.ts).
      relaxRadii(this.levels[l], 0);
      relaxRadii(this.levels[l], 1);
    }
  }

  private relax(l: number): void {
    const level = this.levels[l];
    const sweeps = this.slow || this.halvings[l].axial > 1 ? 2 : 1;
    for (let sweep = 0; sweep < sweeps; sweep++) {
      relaxCircles(level, 0);
      relaxCircles(level, 1);
      relaxRadii(level, 0);
      relaxRadii(level, 1);
    }
  }

  private solveBottom(): void {
    const level = this.levels[this.levels.length - 1];
    const plane = level.radial * level.angular;
    level.u.set(level.f, plane);
    solveBanded(this.bottom, level.u, plane);
  }

  private factorBottom(): void {
    const level = this.levels[this.levels.length - 1];
    const { radial, angular, axial, cr, cp, cz } = level;
    const plane = radial * angular;
    const { lower, band } = this.bottom;
    const width = band + 1;
    lower.fill(0);
    const couple = (a: number, b: number, value: number): void => {
      const row = Math.max(a, b);
      lower[row * width + band + Math.min(a, b) - row] -= value;
    };
    for (let k = 0; k < axial; k++) {
      for (let j = 0; j < angular; j++) {
        for (let i = 0; i < radial; i++) {
          const c = k * plane + j * radial + i;
          lower[c * width + band] += diagonal(level, i, j, k);
          if (i < radial - 1) couple(c, c + 1, cr[c]);
          couple(c, k * plane + (j === angular - 1 ? 0 : j + 1) * radial + i, cp[c]);
          if (k < axial - 1) couple(c, c + plane, cz[c + plane]);
        }
      }
    }
    factorBanded(this.bottom);
  }
}
