/** The coefficients of one JPEG scan, sequential or progressive (ITU-T T.81, annexes F and G). */
import { BitReader, type HuffmanTable } from "./jpeg-bits.ts";

/** One component of the picture, its coefficients in blocks of 64 that cover whole units. */
export interface Component {
  readonly id: number;
  /** samples of it across and down for one unit, in blocks */
  readonly across: number;
  readonly down: number;
  readonly quantiser: number;
  /** blocks that hold its own samples, and blocks as stored */
  readonly blocksWide: number;
  readonly blocksHigh: number;
  readonly stride: number;
  readonly coefficients: Int16Array;
  /** tables of the scan that is being read */
  dc: HuffmanTable | undefined;
  ac: HuffmanTable | undefined;
  predicted: number;
}

export interface Scan {
  readonly components: readonly Component[];
  /** first and last coefficient in zigzag order */
  readonly from: number;
  readonly to: number;
  /** bits known before (0: none) and left out */
  readonly high: number;
  readonly low: number;
  /** units between restarts, 0: none */
  readonly restart: number;
  readonly progressive: boolean;
  /** units of the whole picture */
  readonly unitsWide: number;
  readonly unitsHigh: number;
}

/** Place of each coefficient in its block, in the order in which they are stored. */
export const ZIGZAG = zigzag();

function zigzag(): Uint8Array {
  const order = new Uint8Array(64);
  let at = 0;
  for (let sum = 0; sum < 15; sum++)
    for (let i = Math.max(0, sum - 7); i <= Math.min(7, sum); i++) {
      const [row, column] = sum % 2 === 0 ? [sum - i, i] : [i, sum - i];
      order[at++] = 8 * row + column;
    }
  return order;
}

/** @returns where the scan ends */
export function readScan(bytes: Uint8Array, at: number, scan: Scan): number {
  const bits = new BitReader(bytes, at);
  const { components, restart } = scan;
  const state = { left: 0 };
  const read = blockReader(scan, bits, state);
  const [only] = components;
  // A scan of one component holds its own blocks only, not those that fill up the last units.
  const single = components.length === 1;
  const wide = single ? only.blocksWide : scan.unitsWide;
  const units = wide * (single ? only.blocksHigh : scan.unitsHigh);
  for (let unit = 0; unit < units; unit++) {
    if (restart > 0 && unit > 0 && unit % restart === 0) {
      bits.restart();
      state.left = 0;
      for (const component of components) component.predicted = 0;
    }
    const column = unit % wide;
    const row = (unit - column) / wide;
    if (single) read(only, (row * only.stride + column) * 64);
    else
      for (const component of components)
        for (let v = 0; v < component.down; v++)
          for (let h = 0; h < component.across; h++)
            read(
              component,
              ((row * component.down + v) * component.stride + column * component.across + h) * 64,
            );
  }
  return bits.position;
}

type ReadBlock = (component: Component, base: number) => void;

function tableOf(table: HuffmanTable | undefined): HuffmanTable {
  if (table === undefined) throw new Error("a scan without its table");
  return table;
}

/** @param state blocks that are still to be passed over, since their band has ended */
function blockReader(scan: Scan, bits: BitReader, state: { left: number }): ReadBlock {
  const { from, to, high, low } = scan;
  const dcDifference = (component: Component): number => {
    component.predicted += bits.signed(bits.symbol(tableOf(component.dc)));
    return component.predicted;
  };
  if (!scan.progressive)
    return (component, base) => {
      const { coefficients } = component;
      coefficients[base] = dcDifference(component);
      const table = tableOf(component.ac);
      for (let k = 1; k < 64; k++) {
        const symbol = bits.symbol(table);
        const size = symbol & 15;
        k += symbol >> 4;
        if (size === 0) {
          if (symbol !== 0xf0) break;
          continue;
        }
        if (k > 63) throw new Error("a block of more than 64 coefficients");
        coefficients[base + ZIGZAG[k]] = bits.signed(size);
      }
    };
  if (from === 0)
    return high === 0
      ? (component, base) => {
          component.coefficients[base] = dcDifference(component) << low;
        }
      : ({ coefficients }, base) => {
          if (bits.receive(1) === 1) coefficients[base] |= 1 << low;
        };
  if (high === 0)
    return (component, base) => {
      if (state.left > 0) {
        state.left--;
        return;
      }
      const table = tableOf(component.ac);
      for (let k = from; k <= to; k++) {
        const symbol = bits.symbol(table);
        const run = symbol >> 4;
        const size = symbol & 15;
        if (size === 0 && run < 15) {
          state.left = (1 << run) + bits.receive(run) - 1;
          break;
        }
        k += run;
        if (size === 0) continue;
        if (k > 63) throw new Error("a block of more than 64 coefficients");
        component.coefficients[base + ZIGZAG[k]] = bits.signed(size) * (1 << low);
      }
    };
  return (component, base) => refine(component, base, scan, bits, state);
}

/** One more bit of each coefficient that is known, and the ones that become known with it. */
function refine(
  { coefficients, ac }: Component,
  base: number,
  { from, to, low }: Scan,
  bits: BitReader,
  state: { left: number },
): void {
  const step = 1 << low;
  const sharpen = (at: number): void => {
    const value = coefficients[at];
    if (bits.receive(1) === 1 && (value & step) === 0) coefficients[at] = value + (value > 0 ? step : -step);
  };
  let k = from;
  if (state.left === 0) {
    const table = tableOf(ac);
    for (; k <= to; k++) {
      const symbol = bits.symbol(table);
      let run = symbol >> 4;
      let fresh = 0;
      if ((symbol & 15) !== 0) fresh = bits.receive(1) === 1 ? step : -step;
      else if (run < 15) {
        state.left = (1 << run) + bits.receive(run);
        break;
      }
      for (; k <= to; k++) {
        const at = base + ZIGZAG[k];
        if (coefficients[at] !== 0) sharpen(at);
        else if (run-- === 0) break;
      }
      if (fresh !== 0 && k <= to) coefficients[base + ZIGZAG[k]] = fresh;
    }
  }
  if (state.left > 0) {
    for (; k <= to; k++) if (coefficients[base + ZIGZAG[k]] !== 0) sharpen(base + ZIGZAG[k]);
    state.left--;
  }
}
