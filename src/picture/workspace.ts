/** Memory of the renderer, kept from picture to picture so that a dragged control allocates nothing. */

import type { HeightKernel } from "./blur.ts";

/** Scratch of one renderer. Holds no state that shows: every picture leaves `gathered` all zero again. */
export interface Workspace {
  /** light gathered into columns, column-major with margins; grown when needed */
  gathered: Float32Array;
  /** first and last touched row of each column */
  low: Int32Array;
  high: Int32Array;
  /** one column while it is folded with the spread along the width */
  column: Float64Array;
  /** position of each wavelength on the sensor, pixels from its middle */
  position: Float64Array;
  /** light of each interval between wavelengths, relative to the brightest column's */
  share: Float64Array;
  /** tables of the spread and the sizes they were made for */
  spread:
    | {
        readonly sizes: readonly number[];
        readonly kernel: HeightKernel;
        readonly taps: Float64Array;
        /** places per column for which the taps are */
        readonly sub: number;
      }
    | undefined;
}

export function createWorkspace(): Workspace {
  return {
    gathered: new Float32Array(0),
    low: new Int32Array(0),
    high: new Int32Array(0),
    column: new Float64Array(0),
    position: new Float64Array(0),
    share: new Float64Array(0),
    spread: undefined,
  };
}

/** Makes sure that a picture of these sizes fits. */
export function reserve(space: Workspace, columns: number, stride: number, wavelengths: number): void {
  if (space.gathered.length < columns * stride) space.gathered = new Float32Array(columns * stride);
  if (space.low.length < columns) {
    space.low = new Int32Array(columns);
    space.high = new Int32Array(columns);
  }
  if (space.column.length < stride) space.column = new Float64Array(stride);
  if (space.position.length < wavelengths) {
    space.position = new Float64Array(wavelengths);
    space.share = new Float64Array(wavelengths);
  }
}
