import type { Setup } from "../../setup/index.ts";

/** The same sensor in fewer, larger pixels. */
export function binned(setup: Setup, by: number): Setup {
  const { camera } = setup;
  return {
    ...setup,
    camera: {
      ...camera,
      pixel: camera.pixel * by,
      columns: Math.max(16, Math.round(camera.columns / by)),
      rows: Math.max(16, Math.round(camera.rows / by)),
    },
  };
}
