/**
 * Pictures that lie on their side, from a camera held upright: found by where their light lies. Which of the two quarter turns sets them
 * up is told by the order of their lines; where those look alike from both ends, the person is asked.
 */
import type { Frame } from "../picture/api.ts";
import { turned } from "../picture/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { ReadingInput } from "./api.ts";
import { backgroundOf } from "./background.ts";
import { lightOf } from "./frame-light.ts";
import { looksMirrored, tellsSides } from "./orientation.ts";
import { prepare } from "./prepare.ts";

export type QuarterTurn = "none" | "left" | "right";

/** Frames of one bench that are turned together. */
type Turnable = Pick<ReadingInput, "hot" | "cold" | "lamp" | "dark" | "turned"> & {
  readonly frames?: readonly Frame[];
};

/** By this factor more evenly must the light lie along the columns than along the rows. */
const CLEARLY = 1.5;
/** Evenness along the columns below which it is no line along them either. */
const EVEN = 0.4;
/** Doubts that outweigh any lamp line that goes with none. */
const MIRRORED = 1000;
const REFUSED = 2000;

/**
 * How the frames have to be turned before they can be read. A reading itself tells mirrored pictures and those upside down, so that all
 * eight ways a picture can lie are found; a picture mirrored and on its side comes out upside down.
 * @throws Refusal where they lie on their side and nothing tells left from right, or where hand marks were set on them as they lie (marks that know their turn were not)
 */
export function turnWanted(input: ReadingInput): QuarterTurn {
  if (input.marks?.turn !== undefined) return input.marks.turn;
  if (!liesOnItsSide(input)) return "none";
  if (input.marks !== undefined) throw ask("and marks set on it as it lies");
  const [left, right] = [doubtOf(input, "left"), doubtOf(input, "right")];
  // Neither way is it such a picture: what is wrong with it, the reading says.
  if (left === REFUSED && right === REFUSED) return "none";
  if (left === null || right === null || left === right)
    throw ask("and whose lines do not tell its left end from its right one");
  return left < right ? "left" : "right";
}

/** All frames turned alike; the reading says so in its warnings. */
export function turnedFrames<T extends Turnable>(input: T, turn: QuarterTurn): T {
  if (turn === "none") return input;
  const { hot, cold, lamp, dark, frames } = input;
  return {
    ...input,
    hot: turned(hot, turn),
    ...(cold === undefined ? {} : { cold: turned(cold, turn) }),
    ...(lamp === undefined ? {} : { lamp: turned(lamp, turn) }),
    ...(dark === undefined ? {} : { dark: turned(dark, turn) }),
    ...(frames === undefined ? {} : { frames: frames.map((frame) => turned(frame, turn)) }),
    turned: turn,
  };
}

export function turnSentence(turn: "left" | "right"): string {
  return `The picture lies on its side: it was turned to the ${turn}, as its lines say (--turn ${turn}); columns and rows are those of the turned picture.`;
}

/** Every column of an upright picture holds about the same light, and its rows do not: on its side it is the other way round. */
function liesOnItsSide({ hot, cold, setup }: ReadingInput): boolean {
  const frame = cold ?? hot;
  const light = lightOf(frame, frame.gamma ?? setup.camera.gamma, cold === undefined ? "hot" : "cold");
  const { level, noise, litShare } = backgroundOf(light);
  if (litShare > 0.6) return false;
  const { columns, rows } = light;
  const byColumn = new Float64Array(columns);
  const byRow = new Float64Array(rows);
  for (let r = 0, i = 0; r < rows; r++)
    for (let c = 0; c < columns; c++, i++) {
      const here = light.light[i] - level;
      if (here < 5 * noise) continue;
      byColumn[c] += here;
      byRow[r] += here;
    }
  const [along, across] = [evenness(byColumn), evenness(byRow)];
  return across > EVEN && across > CLEARLY * along;
}

/** (Σs)²/(n·Σs²): 1 where all are alike, 1/n where one holds everything, 0 without light. */
function evenness(sums: Float64Array): number {
  let sum = 0;
  let square = 0;
  for (const s of sums) {
    sum += s;
    square += s * s;
  }
  return square > 0 ? sum ** 2 / (sums.length * square) : 0;
}

/** Doubt about one way to turn: the smaller, the better its lines go with the published ones; null where they do not tell. */
function doubtOf(input: ReadingInput, turn: "left" | "right"): number | null {
  try {
    const prepared = prepare(turnedFrames(input, turn), looksMirrored);
    if (prepared === null) return MIRRORED;
    const { scale, assignment } = prepared;
    if (scale === null) return tellsSides(assignment) ? 0 : null;
    const unknown = scale.features.filter((f) => f.wavelengths.length === 0).length;
    return unknown + Math.min(0.9, scale.rmsResidual * 1e9);
  } catch (error) {
    if (error instanceof Refusal) return REFUSED;
    throw error;
  }
}

function ask(received: string): Refusal {
  return new Refusal({
    code: "on-its-side",
    field: "hot",
    received: `one that lies on its side ${received}`,
    expected: "a picture whose colours lie along its rows",
    hint: "say how to turn it, left or right (--turn on the command line)",
  });
}
