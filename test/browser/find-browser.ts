/**
 * Finds a browser to test in and starts it. Looked for in this order: the program named by CHROMIUM_PATH, a Chrome,
 * Chromium or Edge installed in one of the usual places, the headless Chromium packed inside an npm package
 * (Linux on x86-64 only). CROSSPRISM_BROWSER=packed skips to the last, to try it where another is installed.
 */
import { execFileSync } from "node:child_process";
import { accessSync, constants, existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";

/** A browser that can be started. */
export interface FoundBrowser {
  /** absolute path of the program */
  readonly path: string;
  /** where it comes from, to be shown to a person */
  readonly origin: string;
  /** folder of shared libraries to offer it where the system lacks them; only the packed one has such */
  readonly libraries?: string;
}

const commands = [
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
  "chrome",
  "microsoft-edge-stable",
  "microsoft-edge",
];

const macPlaces = ["Google Chrome", "Chromium", "Microsoft Edge"].flatMap((name) =>
  ["/Applications", `${process.env["HOME"] ?? ""}/Applications`].map(
    (folder) => `${folder}/${name}.app/Contents/MacOS/${name}`,
  ),
);

const windowsPlaces = ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"].flatMap((variable) => {
  const folder = process.env[variable];
  if (folder === undefined) return [];
  return [
    "Google\\Chrome\\Application\\chrome.exe",
    "Chromium\\Application\\chrome.exe",
    "Microsoft\\Edge\\Application\\msedge.exe",
  ].map((tail) => `${folder}\\${tail}`);
});

/** Flags for a test run: no first-run pages, nothing that calls home, no need for a GPU or a sandbox helper. */
const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/**
 * The browsers that may serve, best first: the one that CHROMIUM_PATH names and no other, or else the installed ones
 * and then the packed one, which is unpacked when it is reached.
 *
 * @throws Error with one sentence when CHROMIUM_PATH names something that cannot be run
 */
export function* browsers(environment: NodeJS.ProcessEnv = process.env): Generator<FoundBrowser> {
  const named = environment["CHROMIUM_PATH"];
  if (named !== undefined && named !== "") {
    if (!canRun(named)) {
      throw new Error(`CHROMIUM_PATH: expected the path of a Chromium-based browser, received ${named}.`);
    }
    yield { path: named, origin: "named by CHROMIUM_PATH" };
    return;
  }
  if (environment["CROSSPRISM_BROWSER"] !== "packed") {
    for (const path of installedPlaces(environment)) {
      if (canRun(path)) yield { path, origin: "installed on this machine" };
    }
  }
  if (process.platform === "linux" && process.arch === "x64") yield packedBrowser();
}

/**
 * Starts the first browser that comes up, without a window, and says which it is. The caller closes it.
 *
 * @param more flags beside the usual ones
 * @throws Error with one sentence when there is none or none comes up
 */
export async function start(
  environment: NodeJS.ProcessEnv = process.env,
  more: readonly string[] = [],
): Promise<{ readonly browser: Browser; readonly found: FoundBrowser }> {
  const advice = "install Chromium, Chrome or Edge, or set CHROMIUM_PATH to the path of one";
  const tried: string[] = [];
  for (const found of browsers(environment)) {
    for (const env of librarySettings(found)) {
      try {
        const browser = await chromium.launch({
          executablePath: found.path,
          args: [...flags, ...more],
          env,
        });
        return { browser, found };
      } catch {
        if (!tried.includes(found.path)) tried.push(found.path);
      }
    }
  }
  if (tried.length === 0) throw new Error(`No browser to test in was found: ${advice}.`);
  throw new Error(`No browser to test in came up (tried ${tried.join(", ")}): ${advice}.`);
}

/** {@link start} for tests that do not mind which browser it is. */
export async function launch(): Promise<Browser> {
  return (await start()).browser;
}

/** The system's own libraries first; the packed ones only where those do not suffice. */
function librarySettings(found: FoundBrowser): Record<string, string | undefined>[] {
  const own = { ...process.env };
  return found.libraries === undefined ? [own] : [own, { ...own, LD_LIBRARY_PATH: found.libraries }];
}

function installedPlaces(environment: NodeJS.ProcessEnv): readonly string[] {
  if (process.platform === "darwin") return macPlaces;
  if (process.platform === "win32") return windowsPlaces;
  const folders = [
    ...(environment["PATH"] ?? "").split(delimiter),
    "/usr/bin",
    "/snap/bin",
    "/opt/google/chrome",
  ];
  return commands.flatMap((command) =>
    folders.filter((folder) => folder !== "").map((folder) => join(folder, command)),
  );
}

function canRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * The browser inside the npm package, unpacked once. A child process unpacks it, since the package takes its target
 * from the environment; it goes to a folder that gets its final name when it is whole, so that neither an interrupted
 * nor a simultaneous run leaves half a browser.
 */
function packedBrowser(): FoundBrowser {
  const shelf = fileURLToPath(new URL("../../node_modules/.cache/", import.meta.url));
  const home = join(shelf, "crossprism-browser");
  if (!existsSync(home)) {
    mkdirSync(shelf, { recursive: true });
    const fresh = mkdtempSync(join(shelf, "unpacking-"));
    // The runtime name makes the package unpack the libraries that a bare server lacks, too.
    const env = { ...process.env, TMPDIR: fresh, AWS_LAMBDA_JS_RUNTIME: "nodejs20.x" };
    const script = 'import("@sparticuz/chromium").then((packed) => packed.default.executablePath())';
    execFileSync(process.execPath, ["-e", script], {
      env,
      cwd: shelf,
      stdio: ["ignore", "ignore", "inherit"],
    });
    try {
      renameSync(fresh, home);
    } catch (error) {
      if (!existsSync(home)) throw error;
      rmSync(fresh, { recursive: true, force: true }); // another run was first
    }
  }
  return {
    path: join(home, "chromium"),
    origin: "packed in the npm package @sparticuz/chromium",
    libraries: join(home, "al2023", "lib"),
  };
}
