/** Finds the bright, nearly level band that every crossed-prism picture has: the undeflected line, or most of it. */
import type { Background } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";

export interface Band {
  /** row coordinate at the middle column, from the top edge */
  readonly row: number;
  /** rows (downward) per column */
  readonly slope: number;
  /** full height of the band at half its light, rows */
  readonly height: number;
  /** share of the column blocks that hold a bright spot on the band */
  readonly share: number;
  /** typical height of the light above background, share of full scale */
  readonly peak: number;
}

const BLOCK = 16;

/** Blocks agree on a line that runs so near to their own light, pixels. */
const NEAR = 4;

/**
 * The band that most column blocks agree on; null where no such band stands out.
 * @param near how far from the line a block's light may be, pixels; the curve of a large picture leaves a straight line by more
 */
export function findBand(frame: LightFrame, background: Background, near = NEAR): Band | null {
  const spots = blockSpots(frame, background);
  if (spots.length < 4) return null;
  const best = consensus(spots, near);
  if (best === null) return null;
  const inliers = spots.filter((s) => Math.abs(s.row - best.at(s.column)) < near);
  const line = straightLine(inliers);
  const widths = inliers.map((s) => s.width).sort((a, b) => a - b);
  const peaks = inliers.map((s) => s.peak).sort((a, b) => a - b);
  return {
    row: line.intercept + (line.slope * frame.columns) / 2,
    slope: line.slope,
    height: widths[widths.length >> 1],
    share: inliers.length / Math.floor(frame.columns / BLOCK),
    peak: peaks[peaks.length >> 1],
  };
}

interface Spot {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly peak: number;
}

function blockSpots(frame: LightFrame, background: Background): Spot[] {
  const { columns, rows, light } = frame;
  const spots: Spot[] = [];
  const profile = new Float64Array(rows);
  const smooth = new Float64Array(rows);
  const blocks = Math.floor(columns / BLOCK);
  const noise = background.noise / Math.sqrt(BLOCK * 5);
  for (let block = 0; block < blocks; block++) {
    const first = block * BLOCK;
    for (let r = 0; r < rows; r++) {
      let sum = 0;
      const base = r * columns + first;
      for (let c = 0; c < BLOCK; c++) sum += light[base + c];
      profile[r] = sum / BLOCK - background.level;
    }
    let top = 2;
    for (let r = 2; r < rows - 2; r++) {
      smooth[r] = (profile[r - 2] + profile[r - 1] + profile[r] + profile[r + 1] + profile[r + 2]) / 5;
      if (smooth[r] > smooth[top]) top = r;
    }
    const peak = smooth[top];
    if (peak < 8 * noise) continue;
    let low = top;
    let high = top;
    while (low > 2 && smooth[low - 1] > peak / 2) low--;
    while (high < rows - 3 && smooth[high + 1] > peak / 2) high++;
    let sum = 0;
    let moment = 0;
    for (let r = low; r <= high; r++) {
      sum += smooth[r];
      moment += smooth[r] * (r + 0.5);
    }
    spots.push({ column: first + BLOCK / 2, row: moment / sum, width: high - low + 1, peak });
  }
  return spots;
}

/** The line through two spots that most others agree with, slopes up to 10°. */
function consensus(spots: readonly Spot[], near: number): { at(column: number): number } | null {
  let best: { slope: number; intercept: number } | null = null;
  let most = 0;
  for (let i = 0; i < spots.length; i++) {
    for (let j = i + 1; j < spots.length; j++) {
      const run = spots[j].column - spots[i].column;
      if (run < 5 * BLOCK && spots.length > 12) continue;
      const slope = (spots[j].row - spots[i].row) / run;
      if (Math.abs(slope) > 0.18) continue;
      const intercept = spots[i].row - slope * spots[i].column;
      let score = 0;
      for (const s of spots) {
        const off = Math.abs(s.row - intercept - slope * s.column);
        if (off < near) score += 1 - off / (2 * near);
      }
      if (score > most) {
        most = score;
        best = { slope, intercept };
      }
    }
  }
  if (best === null || most < 3) return null;
  const { slope, intercept } = best;
  return { at: (column) => intercept + slope * column };
}

function straightLine(spots: readonly Spot[]): { slope: number; intercept: number } {
  const n = spots.length;
  const meanColumn = spots.reduce((sum, s) => sum + s.column, 0) / n;
  const meanRow = spots.reduce((sum, s) => sum + s.row, 0) / n;
  let top = 0;
  let bottom = 0;
  for (const s of spots) {
    top += (s.column - meanColumn) * (s.row - meanRow);
    bottom += (s.column - meanColumn) ** 2;
  }
  const slope = bottom > 0 ? top / bottom : 0;
  return { slope, intercept: meanRow - slope * meanColumn };
}
