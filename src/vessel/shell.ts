/** The tube's shell as a balance of heat: which temperatures a heater and its cooling give. */
import { pow } from "../numerics/elementary/index.ts";
import { createBandedLu, factorBandedLu, solveBandedLu } from "../numerics/banded-lu.ts";
import { STEFAN_BOLTZMANN } from "../reference/index.ts";
import { boreExchange } from "./bore-radiation.ts";
import { tubeGrid } from "./grid.ts";
import { addRankOne, conductanceOf, inletOf, liquidCoupling, type RankOne } from "./liquid-coupling.ts";
import { coolant, tabulated, tubeMaterial } from "./materials.ts";
import { checkShell } from "./shell-check.ts";
import { ENDS, type Part, partFlux, STRIP, TOP } from "./shell-parts.ts";
import type { Cooling, HeatBalance, ShellInput, ShellState } from "./shell-api.ts";
import { withWarnings } from "./shell-warnings.ts";
import { meanOfBox } from "./wall.ts";

/** Sectors and slices of a shell. */
export const SHELL_SIZE = { angular: 24, axial: 24 } as const;

/** Newton's last change, K, in a step of time and in the steady state. */
const SETTLED_STEP = 1e-3;
const SETTLED_STEADY = 1e-7;

/** Losses are tabulated every two kelvin, the room's temperature being one of the nodes, up to some 3000 K. */
const TABLE_STEP = 2;
const TABLE = 1500;

/**
 * Shell equation of every face:
 *
 *   C dT/dt = Σ conduction + heater − losses − exchange across the bore
 *
 * with conduction along the wall in both directions, k and c_p at the local temperature. The shell is alike left and
 * right and on both sides of mid-length, so only a quarter is solved: slices k < axial/2 and sectors j ≤ angular/2
 * counted from the bottom, [k · columns + j] with columns = angular/2 + 1. `advance` solves one implicit step in place
 * by Newton's method with a banded direct solution; the work space is the model's own.
 */
export class ShellModel {
  readonly input: ShellInput;
  readonly angular: number;
  readonly axial: number;
  readonly zFaces: Float64Array;
  /** faces of the quarter, and of a slice of it */
  readonly faces: number;
  readonly columns: number;
  private readonly material: ReturnType<typeof tubeMaterial>;
  private readonly emissivity: number;
  private readonly outerDiameter: number;
  private readonly share: readonly [Float64Array, Float64Array, Float64Array];
  /** how many faces of the whole shell one of the quarter stands for */
  private readonly copies: Float64Array;
  private readonly outerArea: Float64Array;
  private readonly innerArea: Float64Array;
  private readonly volume: Float64Array;
  private readonly exchange: Float64Array;
  private readonly stripArea: number;
  private readonly matrix: ReturnType<typeof createBandedLu>;
  private readonly residual: Float64Array;
  private readonly fourth: Float64Array;
  /** mean temperature of the liquid in top and ends, K */
  private readonly liquid: [number, number, number];
  /** loss of each part, W/m², over temperature, for the liquid at its inlet */
  private readonly tables: readonly Float64Array[];
  private readonly tableLiquid: readonly number[];
  private readonly tableLow: number;
  private readonly liquids: readonly RankOne[];
  private readonly shift: readonly number[];

  constructor(input: ShellInput, size: { readonly angular: number; readonly axial: number } = SHELL_SIZE) {
    checkShell(input);
    const { angular, axial } = size;
    this.input = input;
    this.angular = angular;
    this.axial = axial;
    this.columns = angular / 2 + 1;
    this.faces = (this.columns * axial) / 2;
    this.zFaces = tubeGrid(input, { radial: 4, angular, axial }).zFaces;
    this.material = tubeMaterial(input.material);
    this.emissivity = input.emissivity ?? this.material.emissivity;
    this.outerDiameter = input.bore + 2 * input.thickness;
    this.exchange = boreExchange(angular, this.emissivity);
    const make = (): Float64Array => new Float64Array(this.faces);
    this.share = [make(), make(), make()];
    this.copies = make();
    this.outerArea = make();
    this.innerArea = make();
    this.volume = make();
    this.residual = make();
    this.fourth = make();
    this.matrix = createBandedLu(this.faces, this.columns);
    this.liquid = [input.room, inletOf(input.topCooling, input.room), inletOf(input.endCooling, input.room)];
    this.tableLiquid = [...this.liquid];
    this.tableLow = input.room - TABLE_STEP * Math.floor((input.room - 50) / TABLE_STEP);
    this.shift = [0, conductanceOf(input.topCooling), conductanceOf(input.endCooling)];
    const table = (part: Part): Float64Array =>
      Float64Array.from({ length: TABLE + 1 }, (_, c) =>
        partFlux(input, part, this.tableLow + c * TABLE_STEP, this.emissivity, this.liquid[part]),
      );
    this.tables = [table(STRIP), table(TOP), table(ENDS)];
    const sector = (2 * Math.PI) / angular;
    const half = 0.5 * input.hotStrip;
    let stripArea = 0;
    for (let k = 0; k < axial / 2; k++) {
      const dz = this.zFaces[k + 1] - this.zFaces[k];
      const heated = meanOfBox(this.zFaces[k], this.zFaces[k + 1], 0.5 * input.heatedLength, 0);
      for (let j = 0; j < this.columns; j++) {
        const i = k * this.columns + j;
        const a = (j - 0.5) * sector;
        const turn = 2 * Math.PI;
        const hot = Math.min(
          1,
          meanOfBox(a, a + sector, half, 0) + meanOfBox(a - turn, a + sector - turn, half, 0),
        );
        this.share[STRIP][i] = heated * hot;
        this.share[TOP][i] = heated * (1 - hot);
        this.share[ENDS][i] = 1 - heated;
        this.outerArea[i] = 0.5 * this.outerDiameter * sector * dz;
        this.innerArea[i] = 0.5 * input.bore * sector * dz;
        this.volume[i] = 0.5 * (input.bore + input.thickness) * sector * dz * input.thickness;
        this.copies[i] = j === 0 || j === this.columns - 1 ? 2 : 4;
        stripArea += this.copies[i] * this.share[STRIP][i] * this.outerArea[i];
      }
    }
    this.stripArea = stripArea;
    this.liquids = [
      ...liquidCoupling(input.topCooling, this.share[TOP], this.outerArea, this.copies),
      ...liquidCoupling(input.endCooling, this.share[ENDS], this.outerArea, this.copies),
    ];
  }

  /** Heat that enters the wall at a power of the heater, W. */
  heatIn(power: number): number {
    return this.input.heater.kind === "gas" ? power * this.input.heater.efficiency : power;
  }

  /**
   * Replaces `temperature`, K, by its value a time `dt` (s; Infinity for the steady state) after `before`, at a heater
   * power in W. Gives the number of Newton steps.
   */
  advance(before: Float64Array, temperature: Float64Array, dt: number, power: number): number {
    const steps = this.newton(before, temperature, dt, power, 60);
    if (steps > 0) return steps;
    throw new Error("the shell's balance of heat did not settle in 60 steps");
  }

  /** Replaces `temperature`, K, by the steady state near it; false where Newton's method does not find one in 15 steps. */
  settles(temperature: Float64Array, power: number): boolean {
    return this.newton(temperature, temperature, Infinity, power, 15) > 0;
  }

  /** Steps taken; 0 where `most` did not suffice. */
  private newton(
    before: Float64Array,
    temperature: Float64Array,
    dt: number,
    power: number,
    most: number,
  ): number {
    for (let step = 1; step <= most; step++) {
      this.linearise(before, temperature, dt, power);
      factorBandedLu(this.matrix);
      solveBandedLu(this.matrix, this.residual);
      addRankOne(this.matrix, this.residual, this.liquids);
      let largest = 0;
      for (let i = 0; i < this.faces; i++) {
        const change = Math.max(-150, Math.min(150, this.residual[i]));
        temperature[i] = Math.max(20, temperature[i] - change);
        largest = Math.max(largest, Math.abs(this.residual[i]));
      }
      const drift = this.updateLiquid(temperature);
      const settled = dt < Infinity ? SETTLED_STEP : SETTLED_STEADY;
      if (largest < settled && drift < settled) return step;
    }
    return 0;
  }

  /** Fills `residual` and `matrix` at the given temperatures. */
  private linearise(before: Float64Array, temperature: Float64Array, dt: number, power: number): void {
    const { angular, axial, columns, faces, material, input, zFaces, exchange, fourth, residual } = this;
    const { entries } = this.matrix;
    const width = 2 * columns + 1;
    const mirror = (j: number): number => (j < columns ? j : angular - j);
    entries.fill(0);
    const sector = (2 * Math.PI) / angular;
    const meanRadius = 0.5 * (input.bore + input.thickness);
    const flux = this.heatIn(power) / this.stripArea;
    for (let i = 0; i < faces; i++) fourth[i] = STEFAN_BOLTZMANN * pow(temperature[i], 4);
    const at = (row: number, column: number): number => row * width + columns + column - row;
    for (let k = 0; k < axial / 2; k++) {
      const dz = zFaces[k + 1] - zFaces[k];
      for (let j = 0; j < columns; j++) {
        const i = k * columns + j;
        const t = temperature[i];
        let r = -this.share[STRIP][i] * flux * this.outerArea[i];
        const loss = this.lossOf(i, t);
        r += loss;
        let d = this.slopeOf(i, t);
        if (dt < Infinity) {
          const capacity =
            (material.density * tabulated(material, material.heat_capacity, t) * this.volume[i]) / dt;
          r += capacity * (t - before[i]);
          d += capacity;
        }
        const conduct = (n: number, geometry: number): void => {
          const g =
            geometry *
            input.thickness *
            tabulated(material, material.conductivity, 0.5 * (t + temperature[n]));
          r += g * (t - temperature[n]);
          d += g;
          entries[at(i, n)] -= g;
        };
        conduct(k * columns + mirror(j + 1), dz / (meanRadius * sector));
        conduct(k * columns + Math.abs(j - 1), dz / (meanRadius * sector));
        if (k > 0) conduct(i - columns, (meanRadius * sector) / (0.5 * (zFaces[k + 1] - zFaces[k - 1])));
        if (k < axial / 2 - 1)
          conduct(i + columns, (meanRadius * sector) / (0.5 * (zFaces[k + 2] - zFaces[k])));
        for (let e = 0; e < angular; e++) {
          const n = k * columns + mirror((j + e) % angular);
          const g = this.innerArea[i] * exchange[e];
          r += g * fourth[n];
          entries[at(i, n)] += (4 * g * fourth[n]) / temperature[n];
        }
        entries[at(i, i)] += d;
        residual[i] = r;
      }
    }
  }

  /** Loss of face i at temperature t, W. */
  private lossOf(i: number, t: number): number {
    let sum = 0;
    for (let part = 0; part < 3; part++) {
      const share = this.share[part][i];
      if (share > 0) sum += share * this.tabulatedFlux(part as Part, t);
    }
    return sum * this.outerArea[i];
  }

  /** Its slope, W/K. */
  private slopeOf(i: number, t: number): number {
    let sum = 0;
    const c = Math.min(TABLE - 1, Math.max(0, Math.floor((t - this.tableLow) / TABLE_STEP)));
    for (let part = 0; part < 3; part++) {
      const table = this.tables[part];
      sum += (this.share[part][i] * (table[c + 1] - table[c])) / TABLE_STEP;
    }
    return sum * this.outerArea[i];
  }

  /** Linear between the entries of the part's table, and on beyond them; liquid shifts its zero. */
  private tabulatedFlux(part: Part, t: number): number {
    const table = this.tables[part];
    const position = (t - this.tableLow) / TABLE_STEP;
    const c = Math.min(TABLE - 1, Math.max(0, Math.floor(position)));
    const value = table[c] + (position - c) * (table[c + 1] - table[c]);
    return this.shift[part] === 0
      ? value
      : value - this.shift[part] * (this.liquid[part] - this.tableLiquid[part]);
  }

  /** Mean temperature of the liquid, inlet + half its rise; gives the largest change, K. */
  private updateLiquid(temperature: Float64Array): number {
    let drift = 0;
    for (const part of [TOP, ENDS] as const) {
      const cooling = part === TOP ? this.input.topCooling : this.input.endCooling;
      if (cooling.kind !== "liquid") continue;
      let area = 0;
      let weighted = 0;
      for (let i = 0; i < this.faces; i++) {
        const a = this.copies[i] * this.share[part][i] * this.outerArea[i];
        area += a;
        weighted += a * temperature[i];
      }
      const carry = 2 * cooling.flow * coolant(cooling.coolant).heat_capacity;
      const next =
        (carry * cooling.inlet + cooling.conductance * weighted) / (carry + cooling.conductance * area);
      drift = Math.max(drift, Math.abs(next - this.liquid[part]));
      this.liquid[part] = next;
    }
    return drift;
  }

  /** Where the heat goes at these temperatures, W. */
  balance(temperature: Float64Array, power: number): HeatBalance {
    this.updateLiquid(temperature);
    const lost = [0, 0, 0];
    for (let i = 0; i < this.faces; i++) {
      for (const part of [STRIP, TOP, ENDS] as const) {
        const share = this.share[part][i];
        if (share > 0)
          lost[part] += share * this.tabulatedFlux(part, temperature[i]) * this.copies[i] * this.outerArea[i];
      }
    }
    const outlet = (part: Part, cooling: Cooling): number | null =>
      cooling.kind === "liquid" ? 2 * this.liquid[part] - cooling.inlet : null;
    const { topCooling, endCooling } = this.input;
    const heater = this.heatIn(power);
    return {
      heater,
      strip: lost[STRIP],
      top: lost[TOP],
      ends: lost[ENDS],
      liquid:
        (topCooling.kind === "liquid" ? lost[TOP] : 0) + (endCooling.kind === "liquid" ? lost[ENDS] : 0),
      topOutlet: outlet(TOP, topCooling),
      endOutlet: outlet(ENDS, endCooling),
      stored: heater - lost[STRIP] - lost[TOP] - lost[ENDS],
    };
  }

  /** The whole shell from its quarter. */
  state(temperature: Float64Array, power: number): ShellState {
    const { angular, axial, columns, zFaces } = this;
    const whole = new Float64Array(angular * axial);
    for (let k = 0; k < axial; k++) {
      const slice = Math.min(k, axial - 1 - k) * columns;
      for (let j = 0; j < angular; j++)
        whole[k * angular + j] = temperature[slice + Math.min(j, angular - j)];
    }
    const balance = this.balance(temperature, power);
    return withWarnings(this.input, { angular, axial, zFaces, temperature: whole, balance });
  }

  /** The quarter of a whole shell on the same faces. */
  quarter(state: ShellState): Float64Array {
    if (state.angular !== this.angular || state.axial !== this.axial) {
      throw new Error(
        `a shell of ${state.angular} × ${state.axial} faces, not ${this.angular} × ${this.axial}`,
      );
    }
    return Float64Array.from({ length: this.faces }, (_, i) => {
      const k = Math.floor(i / this.columns);
      return state.temperature[k * this.angular + (i % this.columns)];
    });
  }

  /** Bottom and top at mid-length, and the mean of the outermost slice, K. */
  readings(temperature: Float64Array): {
    readonly bottom: number;
    readonly top: number;
    readonly ends: number;
  } {
    const { angular, axial, columns } = this;
    const middle = (axial / 2 - 1) * columns;
    let ends = 0;
    for (let j = 0; j < angular; j++) ends += temperature[Math.min(j, angular - j)] / angular;
    return { bottom: temperature[middle], top: temperature[middle + columns - 1], ends };
  }
}
