/**
 * The picture that a curve makes on the pixels, fast enough to be fitted.
 *
 *   I(U, v) = ∫ dU′ B(U − U′) S(U′) Σ_j w_j T_j(U′) P(v − v_cold(U′) − D_j(U′)) + background
 *
 * Cells along U are short; inside a cell D runs straight, so that the level slit's image P is averaged over it exactly
 * however steep the branch; the result is then spread over the pixels of each row by B, the plumb slit's image.
 */
import { columnOnRow, type Geometry, heightOnRow } from "./geometry.ts";
import { smoothBox, smoothBoxIntegral } from "./smooth-box.ts";

/** Curve on the cell borders; two-dimensional arrays are heights × nodes. */
export interface CurveOnNodes {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
  /** v of the light, pixels above the middle, heights × nodes */
  readonly place: Float64Array;
  /** light per pixel on the line, full scale: S·T, heights × nodes */
  readonly light: Float64Array;
}

export interface Blur {
  /** level slit's image: full width and Gaussian blur, pixels */
  readonly slitHeight: number;
  readonly sigmaHeight: number;
  /** plumb slit's image: full width and Gaussian blur, pixels */
  readonly slitWidth: number;
  readonly sigmaWidth: number;
}

const PHASES = 64;
const REACH_SIGMAS = 5;

/** Scratch memory of one picture size; reused between evaluations. */
export interface ModelScratch {
  readonly image: Float64Array;
  readonly column: Float64Array;
  readonly below: Float64Array;
}

export function modelScratch(columns: number, rows: number): ModelScratch {
  return {
    image: new Float64Array(columns * rows),
    column: new Float64Array(rows + 2),
    below: new Float64Array(rows + 2),
  };
}

/** Writes the picture into `scratch.image` (without background); everything there is overwritten. */
export function renderPixels(
  curve: CurveOnNodes,
  geometry: Geometry,
  blur: Blur,
  scratch: ModelScratch,
): void {
  const { image, column } = scratch;
  const { columns, rows } = geometry;
  image.fill(0);
  const kernel = blurKernel(blur);
  const n = curve.nodes.length;
  const heights = curve.weights.length;
  const reach = blur.slitHeight / 2 + REACH_SIGMAS * blur.sigmaHeight;
  const s = Math.sin(geometry.roll);
  const k = Math.cos(geometry.roll);
  const flat = geometry.roll === 0 && geometry.smile === 0;
  for (let i = 0; i + 1 < n; i++) {
    const along = 0.5 * (curve.nodes[i] + curve.nodes[i + 1]);
    const length = curve.nodes[i + 1] - curve.nodes[i];
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let most = 0;
    for (let j = 0; j < heights; j++) {
      const at = j * n + i;
      const light = curve.light[at] + curve.light[at + 1];
      most = Math.max(most, light);
      if (light < 1e-6) continue;
      low = Math.min(low, curve.place[at], curve.place[at + 1]);
      high = Math.max(high, curve.place[at], curve.place[at + 1]);
    }
    if (most < 1e-6 || !(high >= low)) continue;
    // Row r sees height v = rows/2·… ; v falls by 1/k per row.
    const bent = along + geometry.smile * low * low;
    const rowHigh = rows / 2 - (bent * s + (high + reach) * k);
    const rowLow = rows / 2 - (bent * s + (low - reach) * k);
    const first = Math.max(0, Math.floor(Math.min(rowHigh, rowLow) - 1));
    const last = Math.min(rows - 1, Math.ceil(Math.max(rowHigh, rowLow) + 1));
    if (last < first) continue;
    column.fill(0, first, last + 1);
    for (let j = 0; j < heights; j++) {
      const at = j * n + i;
      const light = 0.5 * (curve.light[at] + curve.light[at + 1]) * curve.weights[j];
      if (light < 1e-7) continue;
      addCell(curve.place[at], curve.place[at + 1], light, blur, geometry, along, first, last, reach, column);
    }
    for (let r = first; r <= last; r++) {
      const value = column[r] * length;
      if (value < 1e-9) continue;
      const centre = flat ? along + columns / 2 : columnOnRow(geometry, along, r + 0.5);
      spread(image, r * columns, columns, centre, value, kernel);
    }
  }
}

/** Adds one height's cell to the column of row values. */
function addCell(
  a: number,
  b: number,
  light: number,
  blur: Blur,
  geometry: Geometry,
  along: number,
  first: number,
  last: number,
  reach: number,
  column: Float64Array,
): void {
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  const run = high - low;
  const { slitHeight, sigmaHeight } = blur;
  const k = Math.cos(geometry.roll);
  const t = Math.tan(geometry.roll);
  const sloped = geometry.roll !== 0;
  const shift = sloped ? along * t : 0;
  for (let r = first; r <= last; r++) {
    let v = (geometry.rows / 2 - r - 0.5) / k - shift;
    if (sloped && geometry.smile !== 0) v = heightOnRow(geometry, along, r + 0.5);
    if (v > high + reach || v < low - reach) continue;
    column[r] +=
      run < 1e-3
        ? light * smoothBox(v - 0.5 * (a + b), slitHeight, sigmaHeight)
        : (light / run) *
          (smoothBoxIntegral(v - low, slitHeight, sigmaHeight) -
            smoothBoxIntegral(v - high, slitHeight, sigmaHeight));
  }
}

interface Kernel {
  /** values at offsets −half…half in steps of 1/PHASES pixel */
  readonly values: Float64Array;
  readonly half: number;
}

function blurKernel(blur: Blur): Kernel {
  const half = Math.ceil(blur.slitWidth / 2 + REACH_SIGMAS * blur.sigmaWidth);
  const values = new Float64Array(2 * half * PHASES + 2);
  for (let i = 0; i < values.length; i++)
    values[i] = smoothBox(i / PHASES - half, blur.slitWidth, blur.sigmaWidth) / blur.slitWidth;
  return { values, half };
}

/** Spreads a value at `centre` (column coordinate) over the pixel centres of a row. */
function spread(
  image: Float64Array,
  base: number,
  columns: number,
  centre: number,
  value: number,
  kernel: Kernel,
): void {
  const { values, half } = kernel;
  const from = Math.max(0, Math.ceil(centre - 0.5 - half));
  const to = Math.min(columns - 1, Math.floor(centre - 0.5 + half));
  if (to < from) return;
  const x = (from + 0.5 - centre + half) * PHASES;
  let i = Math.max(0, Math.floor(x));
  const f = x - i;
  for (let c = from; c <= to; c++) {
    image[base + c] += value * (values[i] + f * (values[i + 1] - values[i]));
    i += PHASES;
  }
}
