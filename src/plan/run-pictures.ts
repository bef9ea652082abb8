/** Small predicted pictures for the run sheet: what the camera should show at each step, as negatives that print well. */
import { encodePng } from "../picture/index.ts";
import { forecast, type Setup } from "../setup/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";

/** Width of a small picture, pixels. */
const COLUMNS = 200;

/** The same field of view in fewer, larger pixels. */
function small(setup: Setup): Setup {
  const { camera } = setup;
  const by = Math.max(1, camera.columns / COLUMNS);
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

export interface RunPicture {
  readonly columns: number;
  readonly rows: number;
  /** PNG file, grey, dark where there is light */
  readonly png: Uint8Array;
}

/** Negative of the light that the camera would see; cold: the tube without vapour. */
export function runPicture(setup: Setup, cold: boolean): RunPicture {
  const shown = small(setup);
  const { light } = forecast(shown, { grid: COARSE_GRID, tolerance: 1e-5, cold });
  const { columns, rows } = shown.camera;
  const samples = new Uint8Array(columns * rows);
  // A square root lifts the faint branches, as the eye does.
  for (let p = 0; p < samples.length; p++)
    samples[p] = 255 - Math.round(255 * Math.sqrt(Math.min(1, Math.max(0, light[p]))));
  return { columns, rows, png: encodePng({ columns, rows, channels: 1, depth: 8, samples }) };
}

/** "data:" address of a PNG, to stand inside a page. */
export function pngAddress(png: Uint8Array): string {
  let text = "";
  for (const byte of png) text += String.fromCharCode(byte);
  return `data:image/png;base64,${btoa(text)}`;
}
