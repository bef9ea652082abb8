/** Pages as PDF, by a Chromium-based browser where there is one. */

import { spawn } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { delimiter, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Refusal } from "../quantity/index.ts";

const COMMANDS = [
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
  "chrome",
  "microsoft-edge-stable",
  "microsoft-edge",
];
const MAC_PLACES = ["Google Chrome", "Chromium", "Microsoft Edge"].map(
  (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
);
/** A browser that has not printed by then never will. */
const PATIENCE = 120_000;

/**
 * The browser to print with; undefined where there is none.
 * @throws Refusal where CHROMIUM_PATH names something that cannot be run
 */
export function findBrowser(environment: NodeJS.ProcessEnv = process.env): string | undefined {
  const named = environment["CHROMIUM_PATH"];
  if (named !== undefined && named !== "") {
    if (canRun(named)) return named;
    throw new Refusal({
      code: "no-browser",
      field: "CHROMIUM_PATH",
      received: named,
      expected: "the path of a Chromium-based browser",
    });
  }
  return places(environment).find(canRun);
}

function places(environment: NodeJS.ProcessEnv): readonly string[] {
  if (process.platform === "darwin") return MAC_PLACES;
  if (process.platform === "win32") {
    return ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"].flatMap((variable) => {
      const folder = environment[variable];
      return folder === undefined
        ? []
        : [
            join(folder, "Google", "Chrome", "Application", "chrome.exe"),
            join(folder, "Microsoft", "Edge", "Application", "msedge.exe"),
          ];
    });
  }
  const folders = (environment["PATH"] ?? "").split(delimiter).filter((folder) => folder !== "");
  return COMMANDS.flatMap((command) => folders.map((folder) => join(folder, command)));
}

function canRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Prints a page to a tagged PDF with an outline. @returns whether it came about */
export async function printPdf(browser: string, html: string, pdf: string): Promise<boolean> {
  const profile = await mkdtemp(join(tmpdir(), "crossprism-print-"));
  try {
    const flags = [
      "--headless",
      "--disable-gpu",
      "--no-first-run",
      "--disable-background-networking",
      // Chromium's sandbox refuses to run as root; the page printed is our own and has no scripts.
      ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
      `--user-data-dir=${profile}`,
      "--no-pdf-header-footer",
      "--generate-pdf-document-outline",
      "--export-tagged-pdf",
      `--print-to-pdf=${resolve(pdf)}`,
      pathToFileURL(resolve(html)).href,
    ];
    return await new Promise((done) => {
      const child = spawn(browser, flags, { stdio: "ignore", timeout: PATIENCE, killSignal: "SIGKILL" });
      child.once("error", () => done(false));
      child.once("exit", (code) => done(code === 0));
    });
  } finally {
    await rm(profile, { recursive: true, force: true, maxRetries: 3 });
  }
}
