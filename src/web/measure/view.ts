/** A photograph as it is looked at before it is read. */
import { turned } from "../../picture/index.ts";
import { lightView } from "./grey.ts";
import { frameOf } from "./open-frames.ts";
import type { GreyView, ViewRequest } from "./protocol.ts";

/** @throws Refusal for a file that is no picture */
export async function viewPhotograph({ photo, turn }: ViewRequest): Promise<GreyView> {
  const frame = await frameOf(photo);
  return lightView(turn === undefined ? frame : turned(frame, turn));
}
