import { fingerprint, PROGRAM_VERSION, type Setup } from "../setup/index.ts";

/** What a result came from: enough to make it again. */
export function provenanceOf(setup: Setup): { program: string; setup: string; seed: number } {
  return { program: PROGRAM_VERSION, setup: fingerprint(setup), seed: setup.camera.seed };
}
