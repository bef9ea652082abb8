/** A browser whose fake camera plays a film made of our own forecast, with the setup that the page is told. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { type Forecast, forecast, type JsonObject, parseSetup } from "../../src/setup/index.ts";
import { start } from "./find-browser.ts";
import { writeY4m } from "./y4m.ts";

const demo = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8"),
) as JsonObject;

/** The demonstration as a webcam sees it, 640 × 480. */
export const WEBCAM: JsonObject = {
  ...demo,
  camera: {
    ...(demo["camera"] as JsonObject),
    pixel: "4.8 um",
    columns: 640,
    rows: 480,
    rate: "480000 /s",
    fullWell: 60000,
    bitDepth: 8,
    gamma: 2.2,
  },
};

/** The tube in the film: 6 K hotter than the setup says. */
const HOTTER: JsonObject = { ...WEBCAM, vessel: { ...(demo["vessel"] as JsonObject), bottom: "291 degC" } };

export interface Webcam {
  readonly browser: Browser;
  /** what the film shows */
  readonly truth: Forecast;
  close(): Promise<void>;
}

/** Ten frames of the tube, each with its own noise, twenty a second, over and over. */
export async function startWebcam(): Promise<Webcam> {
  const folder = mkdtempSync(join(tmpdir(), "crossprism-camera-"));
  const film = join(folder, "tube.y4m");
  const setup = parseSetup(HOTTER);
  const frames = Array.from(
    { length: 10 },
    (_, i) => forecast({ ...setup, camera: { ...setup.camera, seed: 100 + i } }).frame,
  );
  writeFileSync(film, writeY4m(frames, 20));
  const { browser } = await start(process.env, [
    "--use-fake-device-for-media-stream",
    "--use-fake-ui-for-media-stream",
    `--use-file-for-fake-video-capture=${film}`,
  ]);
  return {
    browser,
    truth: forecast(setup),
    async close() {
      await browser.close();
      rmSync(folder, { recursive: true });
    },
  };
}

/** Opens the webcam's setup in the page and the leaf of the camera. */
export async function openWebcamLeaf(page: Page): Promise<void> {
  await page.locator("input[type=file][accept*=json]").setInputFiles({
    name: "webcam.json",
    mimeType: "application/json",
    buffer: Buffer.from(JSON.stringify(WEBCAM)),
  });
  await page.getByRole("button", { name: "Photograph", exact: true }).click();
}

export async function openCamera(page: Page): Promise<void> {
  await page.getByRole("button", { name: "open the camera" }).click();
  await page.waitForSelector("[data-camera=live]", { timeout: 30_000, state: "attached" });
}
