/** The last step to a picture file, by itself: a page that shows coarse light first fetches it later. */
import { type CameraInput, type Frame, record } from "../picture/index.ts";
import type { CurveStage } from "./stages.ts";

/** The picture that the camera stores of this light, filters, leaks and converter included. */
export function frameOf(light: Float32Array, camera: CameraInput, curve: CurveStage, seed?: number): Frame {
  return record(light, camera, { map: curve.map, roll: curve.scale.roll }, seed ?? camera.seed);
}
