/** Wall temperatures, and where need be the width of the hot strip, with which the vessel gives the columns that were read. */
import { type Setup, vapourStage } from "../setup/index.ts";
import { COARSE_GRID, type Contents } from "../vessel/index.ts";
import type { Reading } from "./api.ts";

/** Sets a field of the setup file and lists the change. */
export type Put = (path: string, value: number | boolean, why: string) => void;

/** Shares by which density and gradient may miss what was read. */
const NEAR = 2e-3;
const NEAR_GRADIENT = 5e-3;
const STEPS = 8;
const HALVINGS = 14;
/** Rounds in which what the coarse grid misses is measured on the fine one. */
const ROUNDS = 2;
/** rad, full angle */
const NARROWEST = 0.35;
/** A gradient below so many standard uncertainties changes nothing. */
const SEEN = 3;

/** True where the read gradient stands out of its uncertainty, so that a setup can be held to it. */
export function gradientTold({ columnGradient }: Reading): boolean {
  return Math.abs(columnGradient.value) >= SEEN * columnGradient.combinedUncertainty;
}

interface Wall {
  readonly bottom: number;
  readonly top: number;
  readonly hotStrip: number;
}

interface Logs {
  /** ln of the model's column density over the read one */
  readonly density: number;
  /** the same of the gradient */
  readonly gradient: number;
}

/**
 * The bottom's temperature carries the density. With that right, the gradient says how the vapour is layered: weaker than the walls
 * make it, the top is taken to be warmer; steeper, the hot strip narrower, which stands for whatever steepens it (the picture cannot
 * tell hot strip, height of the beam and gas apart, and that is said).
 */
export function adoptVapour(setup: Setup, reading: Reading, put: Put, left: string[]): void {
  if (setup.shell !== undefined) {
    left.push("The setup gives a heater, not wall temperatures: they follow from its balance and were left.");
    return;
  }
  const told = gradientTold(reading);
  if (setup.vessel.contents !== undefined) {
    adoptContents(setup, setup.vessel.contents, reading, put, left);
    return;
  }
  if (!told)
    left.push("No gradient is seen in the picture: the walls were brought to agree with the density alone.");
  const target = {
    density: reading.columnDensity.value,
    gradient: Math.abs(reading.columnGradient.value),
  };
  const given: Wall = setup.vessel.wall;
  const logs = (wall: Wall, grid?: typeof COARSE_GRID): Logs => {
    const { vessel } = setup;
    const { middle } = vapourStage(
      { ...setup, vessel: { ...vessel, wall: { ...vessel.wall, ...wall } } },
      grid === undefined ? {} : { grid },
    );
    return {
      density: Math.log(middle.columnDensity / target.density),
      gradient: told ? Math.log(Math.abs(middle.columnGradient) / target.gradient) : 0,
    };
  };
  const uncertain = reading.columnGradient.combinedUncertainty / target.gradient;
  // Walls that give the gradient within its uncertainty are left: a top moved by 30 K to meet the last percent of an unmeasured focal length helps nobody.
  const near = Math.max(NEAR_GRADIENT, uncertain);
  let wall = given;
  let rest = logs(wall);
  for (let round = 0; round < ROUNDS; round++) {
    const coarse = logs(wall, COARSE_GRID);
    const [density, gradient] = [rest.density - coarse.density, rest.gradient - coarse.gradient];
    wall = searched(given, near, (at) => {
      const found = logs(at, COARSE_GRID);
      return { density: found.density + density, gradient: found.gradient + gradient };
    });
    rest = logs(wall);
    if (Math.abs(rest.density) < NEAR && Math.abs(rest.gradient) < near) break;
  }
  const why = `the read column density ${target.density.toExponential(3)} m-2`;
  const both = `the read column gradient ${target.gradient.toExponential(3)} m-3 at that density`;
  if (Math.abs(wall.bottom - given.bottom) > 0.05) put("vessel.bottom", wall.bottom, why);
  if (Math.abs(wall.top - given.top) > 0.5) put("vessel.top", wall.top, both);
  if (Math.abs(wall.hotStrip - given.hotStrip) > 0.01) {
    put("vessel.hotStrip", wall.hotStrip, both);
    left.push(
      "The hot strip stands for whatever makes the gradient steeper than these walls do: a beam that runs lower, a gas of other pressure or a colder top look alike in one picture.",
    );
  }
  if (Math.abs(rest.gradient) > near)
    left.push(
      `The read gradient is ${((Math.exp(Math.abs(rest.gradient)) - 1) * 100).toFixed(0)} % ${rest.gradient < 0 ? "above" : "below"} what any such walls give at the read density: look at hot strip, gas and beam height.`,
    );
}

/** A cell's side arm, or the salt in a flame, with which the column density is as read. */
function adoptContents(
  setup: Setup,
  contents: Contents,
  { columnDensity, columnGradient }: Reading,
  put: Put,
  left: string[],
): void {
  const { value } = columnDensity;
  const why = `the read column density ${value.toExponential(3)} m-2`;
  const middle: Middle = (of) => vapourStage({ ...setup, vessel: { ...setup.vessel, contents: of } }).middle;
  const adopted =
    Math.abs(middle(contents).columnDensity / value - 1) < NEAR ? contents : asDense(contents, value, middle);
  if (adopted !== contents && adopted.kind === "flame") put("vessel.flameDensity", adopted.density, why);
  if (adopted !== contents && adopted.kind === "cell") put("vessel.sideArm", adopted.sideArm, why);
  // The gradient of a flame grows with its salt: what counts is what the adopted one would bend.
  if (
    Math.abs(columnGradient.value - middle(adopted).columnGradient) >
    SEEN * columnGradient.combinedUncertainty
  )
    left.push("The read gradient was left: only the walls of a tube are brought to agree with one.");
}

type Middle = (of: Contents) => { readonly columnDensity: number; readonly columnGradient: number };

/** The same contents with the column density `value`, m⁻². */
function asDense(contents: Contents, value: number, middle: Middle): Contents {
  const density = (of: Contents): number => middle(of).columnDensity;
  if (contents.kind === "flame")
    return { ...contents, density: (contents.density * value) / density(contents) };
  if (contents.kind !== "cell") return contents;
  let { sideArm } = contents;
  for (let k = 0; k < STEPS; k++) {
    const off = Math.log(density({ ...contents, sideArm }) / value);
    if (Math.abs(off) < NEAR / 4) break;
    const slope = (Math.log(density({ ...contents, sideArm: sideArm - 0.5 }) / value) - off) / -0.5;
    // The side arm is the coldest point.
    sideArm = Math.min(contents.body, sideArm - Math.max(-25, Math.min(25, off / slope)));
  }
  return { ...contents, sideArm };
}

/** The wall whose logarithms vanish: bottom for every trial of the top or the strip, those by halving where the gradient is further off than `near`. */
function searched(given: Wall, near: number, logs: (wall: Wall) => Logs): Wall {
  const settled = (wall: Wall): { readonly wall: Wall; readonly gradient: number } => {
    let { bottom } = wall;
    let off = logs({ ...wall, bottom });
    for (let k = 0; k < STEPS && Math.abs(off.density) > NEAR / 4; k++) {
      const slope = (logs({ ...wall, bottom: bottom + 0.5 }).density - off.density) / 0.5;
      bottom -= Math.max(-25, Math.min(25, off.density / slope));
      off = logs({ ...wall, bottom });
    }
    return { wall: { ...wall, bottom }, gradient: off.gradient };
  };
  const start = settled(given);
  if (Math.abs(start.gradient) < near) return start.wall;
  const halved = (at: (share: number) => Wall): Wall => {
    let [low, high] = [0, 1];
    let best = start;
    for (let k = 0; k < HALVINGS; k++) {
      const middle = (low + high) / 2;
      // The bottom moves little from one trial to the next.
      const here = settled({ ...at(middle), bottom: best.wall.bottom });
      if (Math.abs(here.gradient) < Math.abs(best.gradient)) best = here;
      if (Math.abs(here.gradient) < NEAR_GRADIENT / 4) break;
      if (here.gradient > 0 === start.gradient > 0) low = middle;
      else high = middle;
    }
    return best.wall;
  };
  const { bottom, top, hotStrip } = start.wall;
  return start.gradient > 0
    ? halved((share) => ({ bottom, hotStrip, top: top + share * (bottom - 2 - top) }))
    : halved((share) => ({ bottom, top, hotStrip: hotStrip + share * (NARROWEST - hotStrip) }));
}
