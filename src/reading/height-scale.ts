/** The height scale of a picture from two cold frames, the level slit moved a known amount in between. */
import { imageScale, spectralMap } from "../path/index.ts";
import type { Frame } from "../picture/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import type { HeightScale } from "./api.ts";
import { backgroundOf } from "./background.ts";
import { type ColdLine, fitColdLine } from "./cold-line.ts";
import { bandOr } from "./first-look.ts";
import { lightOf, sameSize } from "./frame-light.ts";
import type { Geometry } from "./geometry.ts";

export interface HeightScaleInput {
  /** cold frame, and the same with the level slit moved */
  readonly cold: Frame;
  readonly moved: Frame;
  /** how far the level slit went, m, positive upward */
  readonly shift: number;
  /** standard uncertainty of the shift, m; default 1 % of it (a micrometer screw's play, common practice, no source) */
  readonly shiftUncertainty?: number;
  readonly dark?: Frame;
  readonly setup: Setup;
}

/**
 * Pixels per rad of deflection, measured: a slit moved up by δ before a collimator of focal length f sends its light down by δ/f,
 * just as a deflection of −δ/f at the tube does, so that
 *
 *   pixels per rad = −(line's way up on the picture) · f_collimator / δ
 *
 * Focusing lens, camera lens, pixel pitch and which way up the picture stands drop out; the collimator's focal length stays.
 * @throws Refusal where a frame shows no line, or the line hardly moved
 */
export function heightScale(input: HeightScaleInput): HeightScale {
  const { cold, moved, shift, setup, dark } = input;
  if (!(Math.abs(shift) > 0))
    throw new Refusal({
      code: "slit-not-moved",
      field: "shift of the level slit",
      received: String(shift),
      expected: "a length other than 0",
    });
  sameSize(cold, moved, "moved", "cold");
  const map = spectralMap(setup.path);
  const lines = [cold, moved].map((frame, k): ColdLine & { readonly tilt: number } => {
    const field = k === 0 ? "cold" : "moved";
    const light = lightOf(frame, frame.gamma ?? setup.camera.gamma, field, dark);
    const background = backgroundOf(light);
    const band = bandOr(light, background, field, 0.6);
    const geometry: Geometry = {
      columns: frame.columns,
      rows: frame.rows,
      roll: Math.atan(-band.slope),
      smile: map.smile * setup.camera.pixel,
    };
    return { ...fitColdLine(light, background, band, geometry, setup.camera.readNoise), tilt: geometry.roll };
  });
  // Heights are counted across a leaning line; the slit moved along the column.
  const way = (lines[1].offset - lines[0].offset) / Math.cos(lines[0].tilt);
  const noise = Math.hypot(lines[0].offsetUncertainty, lines[1].offsetUncertainty);
  if (Math.abs(way) < Math.max(3 * noise, 1))
    throw new Refusal({
      code: "slit-not-moved",
      field: "moved",
      received: `a line ${Math.abs(way).toFixed(2)} pixels from where it was`,
      expected: "a frame with the level slit moved by several pixels",
    });
  const pixelsPerRadian = (-way * setup.path.collimatorFocalLength) / shift;
  const ofShift = (input.shiftUncertainty ?? 0.01 * Math.abs(shift)) / Math.abs(shift);
  return {
    pixelsPerRadian,
    standardUncertainty: Math.abs(pixelsPerRadian) * Math.hypot(noise / way, ofShift),
    bySetup: imageScale(setup.path, map).perRadian / setup.camera.pixel,
  };
}
