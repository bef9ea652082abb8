/** A forecast as numbered pictures: the tube warming up, or smoke drifting before the slit; a film made of them where the machine has an encoder. */
import { spawn } from "node:child_process";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { encodePng, frameOfView } from "../picture/index.ts";
import { smokeSeries } from "../path/index.ts";
import { Refusal } from "../quantity/index.ts";
import { type Forecast, forecast, frameOf, type Setup } from "../setup/index.ts";
import { wallReadings, warmUp } from "../vessel/index.ts";
import { writeAll } from "./files.ts";
import { viewOf } from "./forecast-parts.ts";
import { wholeNumber } from "./work-options.ts";

interface Taken {
  readonly png: Uint8Array;
  /** row of film.csv */
  readonly row: readonly number[];
}

const SHOWN_PER_SECOND = 8;

/** What the film's pictures stand for, with the headings of film.csv. */
const KINDS: Readonly<Record<string, string>> = {
  "warm-up": "time_s,bottom_K,top_K,column_density_m-2,column_gradient_m-3",
  smoke: "time_s,light_left",
};

/**
 * Writes film/frame-0001.png and so on, film/film.csv, and film/film.mp4 where `ffmpeg` is on the path.
 * @returns sentences for a reader
 */
export async function makeFilm(
  result: Forecast,
  film: string,
  frames: string,
  until: number,
  folder: string,
): Promise<string> {
  const headings = KINDS[film];
  if (headings === undefined) {
    throw new Refusal({
      code: "unknown-film",
      field: "--film",
      received: JSON.stringify(film),
      expected: `one of ${Object.keys(KINDS).join(", ")}`,
    });
  }
  const number = wholeNumber(frames, "--frames", 2, 2000);
  const taken = film === "smoke" ? smokeFrames(result, number) : warmUpFrames(result.setup, number, until);
  const into = join(folder, "film");
  await mkdir(into, { recursive: true });
  const files: Record<string, string | Uint8Array> = {};
  const rows = [`frame,${headings}`];
  let count = 0;
  for (const { png, row } of taken) {
    count++;
    files[`frame-${String(count).padStart(4, "0")}.png`] = png;
    rows.push([count, ...row.map((value) => value.toPrecision(8))].join(","));
  }
  files["film.csv"] = `${rows.join("\n")}\n`;
  await writeAll(into, files);
  const encoded = await encode(into);
  return encoded
    ? `${count} pictures and film.mp4 stand in ${into}`
    : `${count} numbered pictures stand in ${into}; no encoder (ffmpeg) was found here to make a film of them`;
}

/** Pictures at even times from cold. */
function* warmUpFrames(setup: Setup, frames: number, duration: number): Generator<Taken> {
  if (setup.shell === undefined) {
    throw new Refusal({
      code: "no-heater",
      field: "--film",
      received: "warm-up with a wall of measured temperatures",
      expected: "a setup that gives vessel.heater, whose warm-up can be followed",
    });
  }
  const times = Array.from({ length: frames }, (_, k) => (duration * (k + 1)) / frames);
  const { kept } = warmUp(setup.shell, { duration, keep: times });
  for (const [k, shell] of kept.entries()) {
    const moment = forecast(setup, { shell });
    const { columns, rows } = setup.camera;
    const { bottom, top } = wallReadings(shell);
    const { columnDensity, columnGradient } = moment.vapour.middle;
    yield {
      png: encodePng(frameOfView(viewOf(moment), columns, rows)),
      row: [times[k], bottom, top, columnDensity, columnGradient],
    };
  }
}

/** Pictures one exposure apart, each with its own noise, while the smoke drifts. */
function* smokeFrames(result: Forecast, frames: number): Generator<Taken> {
  const { setup, curve, light } = result;
  const { smoke, smokeFlicker } = setup.path;
  if (smoke === undefined || smokeFlicker === undefined) {
    throw new Refusal({
      code: "no-smoke",
      field: "path.smoke",
      received: "no smoke",
      expected: "an optical depth of smoke above 0",
      hint: 'for instance --set "path.smoke=0.3"',
    });
  }
  const { camera } = setup;
  const clear = camera.rate * Math.exp(smoke);
  const left = smokeSeries({ depth: smoke, ...smokeFlicker }, frames, camera.exposure, camera.seed);
  for (const [k, share] of left.entries()) {
    const dimmed = { ...camera, rate: clear * share };
    const frame = frameOf(light, dimmed, curve, camera.seed + k);
    // Shown on one scale, so that the flicker is seen.
    const png = encodePng(frameOfView(viewOf({ ...result, frame }), camera.columns, camera.rows));
    yield { png, row: [k * camera.exposure, share] };
  }
}

/** False where no encoder is installed. */
function encode(folder: string): Promise<boolean> {
  return new Promise((resolve) => {
    const job = spawn(
      "ffmpeg",
      ["-y", "-loglevel", "error", "-framerate", String(SHOWN_PER_SECOND), "-i", "frame-%04d.png"].concat([
        "-vf",
        "pad=ceil(iw/2)*2:ceil(ih/2)*2",
        "-pix_fmt",
        "yuv420p",
        "film.mp4",
      ]),
      { cwd: folder, stdio: "ignore" },
    );
    job.on("error", () => resolve(false));
    job.on("exit", (code) => resolve(code === 0));
  });
}
