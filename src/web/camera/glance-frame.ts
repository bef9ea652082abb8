/** One live frame: averaged with those before it, metered, read. Lives in the worker; keeps the cold frame and the average. */
import { encodePng, type Frame } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { type GlanceReader, lookAt, meterLine, prepareGlance, type SeenFrame } from "../../reading/index.ts";
import type { Setup } from "../../setup/index.ts";
import { greyOf, lightView } from "../measure/grey.ts";
import { liveFrame } from "../measure/luma.ts";
import { openSetup } from "../measure/open-frames.ts";
import type { GlanceAnswer, GlanceRequest, Meter } from "../measure/protocol.ts";
import { createRunningMean, type RunningMean } from "./running-mean.ts";

const STEPS = 64;

interface Kept {
  key: string;
  setup: Setup;
  readonly mean: RunningMean;
  cold: Frame | undefined;
  reader: GlanceReader | undefined;
}
let kept: Kept | undefined;

export async function glanceAtFrame(request: GlanceRequest): Promise<GlanceAnswer> {
  const raw = await liveFrame(request.frame);
  const key = JSON.stringify([request.setup, raw.columns, raw.rows]);
  if (kept?.key !== key) {
    const size = kept?.cold;
    const cold = size?.columns === raw.columns && size.rows === raw.rows ? size : undefined;
    kept = {
      key,
      setup: sizedFor(openSetup(request.setup), raw),
      mean: createRunningMean(),
      cold,
      reader: undefined,
    };
  }
  const state = kept;
  const frame = state.mean.add(raw, request.average);
  const averaged = state.mean.count();
  if (request.cold !== undefined) {
    state.cold = request.cold === "take" ? frame : undefined;
    state.reader = undefined;
  }
  const { gamma } = state.setup.camera;
  const seen = lookAt(frame, gamma);
  return {
    columns: raw.columns,
    rows: raw.rows,
    view: averaged > 1 ? lightView(frame) : undefined,
    ...readOr(state, frame, seen),
    meter: { ...countsOf(raw), ...lineOf(frame, gamma, seen) },
    averaged,
    coldKept: state.cold !== undefined,
    png: request.capture === true ? new Uint8Array(encodePng(frame)) : undefined,
  };
}

/** A live camera often gives fewer pixels than the setup's camera has: the same field of view in the frame's own pixels. */
function sizedFor(setup: Setup, frame: Frame): Setup {
  const pixel = (setup.camera.pixel * setup.camera.columns) / frame.columns;
  return { ...setup, camera: { ...setup.camera, columns: frame.columns, rows: frame.rows, pixel } };
}

function readOr(state: Kept, frame: Frame, seen: SeenFrame): Pick<GlanceAnswer, "glance" | "refused"> {
  try {
    state.reader ??= prepareGlance(state.setup, state.cold);
    return { glance: state.reader(frame, seen), refused: undefined };
  } catch (fault) {
    if (!(fault instanceof Refusal)) throw fault;
    return { glance: undefined, refused: fault.message };
  }
}

/** What the camera's own frame, not the mean, holds of each brightness, and how much of it is cut off. */
function countsOf(frame: Frame): Pick<Meter, "histogram" | "clipped" | "black"> {
  const grey = greyOf(frame);
  const top = frame.depth === 8 ? 255 : 65535;
  const histogram = new Uint32Array(STEPS);
  let clipped = 0;
  let black = 0;
  for (let p = 0; p < grey.length; p++) {
    histogram[Math.min(STEPS - 1, Math.floor((grey[p] * STEPS) / (top + 1)))] += 1;
    if (grey[p] === 0) black += 1;
  }
  const { samples, channels } = frame;
  for (let p = 0; p < samples.length; p += channels) {
    // One full channel is enough: its light is unknown.
    for (let k = 0; k < channels; k++)
      if (samples[p + k] >= 0.996 * top) {
        clipped += 1;
        break;
      }
  }
  return { histogram, clipped: clipped / grey.length, black: black / grey.length };
}

function lineOf(frame: Frame, gamma: number, seen: SeenFrame): Pick<Meter, "bright" | "slope" | "edge"> {
  const line = meterLine(frame, gamma, seen);
  return { bright: line?.light, slope: line?.slope, edge: line?.edge };
}
