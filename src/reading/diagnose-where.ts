/** Which pixels say so: the part of a frame that a cause was seen in. */
import type { CauseCode } from "./diagnose-causes.ts";
import { lightBlocks, middleCurve } from "./diagnose-signs.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { foreignGap } from "./foreign-gap.ts";
import type { Gap } from "./gaps.ts";

/** A part of one of the frames: columns and rows from the first to the last pixel, counted from 0. */
export interface Where {
  readonly frame: "hot" | "cold" | "lamp";
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
}

export function whereOf(cause: CauseCode, fitted: FittedPicture): Where | undefined {
  const { hot, lamp } = fitted;
  const whole: Where = { frame: "hot", columns: [0, hot.columns - 1], rows: [0, hot.rows - 1] };
  switch (cause) {
    case "as-predicted":
      return undefined;
    case "overexposed":
      return boxOf(fitted, (i) => hot.saturated[i] === 1);
    case "smoke":
      return fitted.cold ? stripe(fitted) : line(fitted);
    case "plumb-slit-tilted":
    case "plumb-slit-wide":
    case "camera-rolled": {
      if (lamp === null) return line(fitted);
      const places = lamp.peaks.map((p) => p.along + hot.columns / 2);
      return {
        ...whole,
        frame: "lamp",
        columns: clamped(Math.min(...places) - 5, Math.max(...places) + 5, hot.columns),
      };
    }
    case "level-slit-tilted":
    case "level-slit-wide":
    case "out-of-focus":
    case "window-fogged":
    case "air-plume":
    case "line-drifted":
      return line(fitted);
    case "stray-light": {
      // The half that the line leaves free.
      const middle = hot.rows / 2 - fitted.undeflected.offset;
      const above = middle > hot.rows / 2;
      return {
        ...whole,
        rows: above ? [0, Math.round(hot.rows / 8)] : [Math.round((7 * hot.rows) / 8), hot.rows - 1],
      };
    }
    case "wrong-lines":
      return branches(fitted, foreignGap(fitted));
    default:
      return branches(fitted, null);
  }
}

/** The undeflected line, on the cold frame where there is one. */
function line(fitted: FittedPicture): Where {
  const { undeflected: u, hot, geometry } = fitted;
  const reach = hot.columns / 2;
  const lean = Math.abs(Math.tan(geometry.roll) + u.slope) * reach;
  const half = u.width / 2 + 2 * u.sigma + lean;
  const middle = hot.rows / 2 - u.offset;
  return {
    frame: fitted.cold ? "cold" : "hot",
    columns: [0, hot.columns - 1],
    rows: clamped(middle - half, middle + half, hot.rows),
  };
}

/** The steep parts beside the gaps, between the undeflected line and where the light is gone. */
function branches(fitted: FittedPicture, foreign: Gap | null): Where {
  const { hot, assignment, undeflected } = fitted;
  const gaps = assignment.pairs.map((p) => p.gap);
  if (foreign !== null) gaps.push(foreign);
  const columns = clamped(
    Math.min(...gaps.map((g) => g.along - 4 * g.halfWidth)) + hot.columns / 2,
    Math.max(...gaps.map((g) => g.along + 4 * g.halfWidth)) + hot.columns / 2,
    hot.columns,
  );
  const { place, light } = middleCurve(fitted, hot.columns);
  let low = undeflected.offset;
  let high = undeflected.offset;
  for (let k = columns[0]; k <= columns[1]; k++) {
    if (light[k] < 0.1) continue;
    low = Math.min(low, place[k]);
    high = Math.max(high, place[k]);
  }
  return { frame: "hot", columns, rows: clamped(hot.rows / 2 - high - 4, hot.rows / 2 - low + 4, hot.rows) };
}

/** The block of columns that lost most of its light against the others. */
function stripe(fitted: FittedPicture): Where {
  const blocks = lightBlocks(fitted);
  const here = line(fitted);
  if (blocks.length === 0) return { ...here, frame: "hot" };
  const darkest = blocks.reduce((a, b) => (b.excess < a.excess ? b : a));
  return { ...here, frame: "hot", columns: [darkest.from, darkest.to - 1] };
}

function boxOf({ hot }: FittedPicture, holds: (index: number) => boolean): Where {
  let [left, right, top, bottom] = [hot.columns, -1, hot.rows, -1];
  for (let r = 0; r < hot.rows; r++)
    for (let c = 0; c < hot.columns; c++)
      if (holds(r * hot.columns + c)) {
        left = Math.min(left, c);
        right = Math.max(right, c);
        top = Math.min(top, r);
        bottom = Math.max(bottom, r);
      }
  if (right < 0) return { frame: "hot", columns: [0, hot.columns - 1], rows: [0, hot.rows - 1] };
  return { frame: "hot", columns: [left, right], rows: [top, bottom] };
}

function clamped(from: number, to: number, size: number): [number, number] {
  const low = Math.min(size - 1, Math.max(0, Math.floor(from)));
  return [low, Math.min(size - 1, Math.max(low, Math.ceil(to)))];
}
