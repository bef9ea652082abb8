/** Programs that write into a notebook until they are killed: the room itself, the command line, the page's server. */

import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync, watch } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { generator } from "./generator.ts";

export const DOORS = ["room", "commands", "server"] as const;
export type Door = (typeof DOORS)[number];

export interface VictimOptions {
  readonly door: Door;
  /** the program as built: dist/node */
  readonly built: string;
  /** folder of the notebook */
  readonly place: string;
  readonly seed: number;
  /** entries to be acknowledged before it may be killed */
  readonly entries: number;
}

export interface Victim {
  /** the entries that were waited for have been acknowledged, and it writes on */
  readonly reached: Promise<void>;
  /** SIGKILL to the program that writes */
  kill(): void;
  readonly ended: Promise<{
    /** names of the entries that it acknowledged */
    readonly said: readonly string[];
    /** false where it was between two commands and nothing was killed */
    readonly killed: boolean;
  }>;
}

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const ROOT = at("../../");
const SETUP = at("../../examples/strontium.json");
const PROGRAM = "bin/crossprism.js";

export function startVictim(options: VictimOptions): Victim {
  if (options.door === "room") return roomVictim(options);
  return options.door === "commands" ? commandsVictim(options) : serverVictim(options);
}

function started(args: readonly string[]): ChildProcess {
  return spawn(process.execPath, args, {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, SETUP: readFileSync(SETUP, "utf8") },
  });
}

/** What a program printed; resolves once it has ended. */
async function outputOf(
  child: ChildProcess,
  allowed: readonly number[] = [0],
): Promise<{ readonly text: string; readonly killed: boolean }> {
  let text = "";
  let errors = "";
  child.stdout?.on("data", (data: Buffer) => {
    text += data.toString("latin1");
  });
  child.stderr?.on("data", (data: Buffer) => {
    errors += data.toString();
  });
  return new Promise((done, failed) => {
    child.on("close", (code, signal) => {
      if (signal === "SIGKILL" || allowed.includes(code ?? -1)) done({ text, killed: signal === "SIGKILL" });
      else failed(new Error(`a writer ended by itself with ${code ?? signal ?? "nothing"}: ${errors}`));
    });
  });
}

/** The notebook room in a loop, without anything around it: the densest writing. */
function roomVictim({ built, place, seed, entries }: VictimOptions): Victim {
  const child = started([at("notebook-writer.mjs"), join(built, "notebook.js"), place, String(seed)]);
  const reached = new Promise<void>((done) => {
    let lines = 0;
    child.stdout?.on("data", (data: Buffer) => {
      lines += data.toString("latin1").split("\n").length - 1;
      // One line more: the first says that the notebook is about to be opened.
      if (lines > entries) done();
    });
    child.on("close", () => done());
  });
  const ended = outputOf(child).then(({ text, killed }) => ({
    killed,
    said: text.split("\n").filter((line) => /^[0-9a-f]{32}$/.test(line)),
  }));
  return { reached, kill: () => child.kill("SIGKILL"), ended };
}

/** One command of the command line after another; may be killed once the last of them has touched the notebook. */
function commandsVictim({ place, seed, entries }: VictimOptions): Victim {
  const random = generator(seed);
  let stopped = false;
  let child: ChildProcess | undefined;
  let reach = (): void => undefined;
  const reached = new Promise<void>((done) => {
    reach = done;
  });
  const work = async (): Promise<Awaited<Victim["ended"]>> => {
    const said: string[] = [];
    try {
      for (let i = 0; !stopped; i++) {
        const touched = watch(place, () => {
          if (i >= Math.min(1, entries)) reach();
        });
        const fresh = !existsSync(join(place, "notebook.sqlite"));
        child = started([PROGRAM, "notebook", ...(fresh ? ["new", place] : commandOf(random, place))]);
        // Another writer may have made the notebook meanwhile; "new" then refuses with 2, as it must.
        const { text, killed } = await outputOf(child, fresh ? [0, 2] : [0]).finally(() => touched.close());
        const uid = /"uid": "([0-9a-f]{32})"[\s\S]*\n\}\n$/.exec(text)?.[1];
        if (uid !== undefined) said.push(uid);
        if (killed) return { said, killed };
      }
      return { said, killed: false };
    } finally {
      reach();
    }
  };
  return {
    reached,
    kill: () => {
      stopped = true;
      child?.kill("SIGKILL");
    },
    ended: work(),
  };
}

function commandOf(random: () => number, place: string): readonly string[] {
  const choice = random();
  const end = ["--in", place, "--json"];
  if (choice < 0.45) return ["remark", `word ${random()}`, ...end];
  if (choice < 0.75) return ["add", "picture", "docs/images/demo-view.png", "--text", `${random()}`, ...end];
  return ["add", "setup", SETUP, "--set", `camera.seed=${Math.floor(1e9 * random())}`, ...end];
}

/** The local server, written to over HTTP on two connections at once as two tabs of a browser would. */
function serverVictim({ place, seed, entries }: VictimOptions): Victim {
  const child = started([PROGRAM, "open", "--no-browser", "--port", "0", "--notebook", place]);
  const said: string[] = [];
  let reach = (): void => undefined;
  const reached = new Promise<void>((done) => {
    reach = done;
    child.on("close", () => done());
  });
  const url = new Promise<string | undefined>((done) => {
    let text = "";
    child.stdout?.on("data", (data: Buffer) => {
      text += data.toString();
      const [found] = /http:\/\/127\.0\.0\.1:\d+/.exec(text) ?? [];
      if (found !== undefined) done(found);
    });
    child.on("close", () => done(undefined));
  });
  const tab = async (random: () => number): Promise<void> => {
    const origin = await url;
    if (origin === undefined) return;
    if (entries === 0) reach();
    for (;;) {
      const { path, type, body } = bodyOf(random);
      let answer: Response;
      let entry: { readonly uid: string };
      try {
        answer = await fetch(`${origin}/api/notebook/${path}`, {
          method: "POST",
          headers: { origin, "content-type": type },
          body,
        });
        entry = (await answer.json()) as { readonly uid: string };
      } catch {
        return; // killed
      }
      if (answer.status !== 201)
        throw new Error(`the server answered ${answer.status}: ${JSON.stringify(entry)}`);
      said.push(entry.uid);
      if (said.length >= entries) reach();
    }
  };
  const tabs = Promise.all([tab(generator(seed)), tab(generator(seed + 1))]);
  const ended = Promise.all([outputOf(child), tabs]).then(([{ killed }]) => ({ said, killed }));
  return { reached, kill: () => child.kill("SIGKILL"), ended };
}

function bodyOf(random: () => number): {
  path: string;
  type: string;
  body: string | Uint8Array<ArrayBuffer>;
} {
  const choice = random();
  if (choice < 0.5)
    return {
      path: "remarks",
      type: "application/json",
      body: JSON.stringify({ text: `word ${random()} `.repeat(1 + 40 * random()) }),
    };
  if (choice < 0.55) {
    const document: unknown = {
      ...(JSON.parse(readFileSync(SETUP, "utf8")) as object),
      notes: `version ${random()}`,
    };
    return { path: "setups", type: "application/json", body: JSON.stringify({ document }) };
  }
  const bytes = new Uint8Array(1000 + Math.floor(300_000 * random() ** 3)).fill(256 * random());
  for (let i = 0; i < 16; i++) bytes[i] = 256 * random();
  return { path: "pictures?role=hot&name=noise.bin", type: "application/octet-stream", body: bytes };
}
