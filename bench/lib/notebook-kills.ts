/** Kills programs that write into a notebook, at random moments, and looks at what is left. */

import { type ChildProcess, spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import Database from "better-sqlite3";
import { Notebook, verifyNotebook } from "../../src/notebook/index.ts";
import { Refusal } from "../../src/quantity/index.ts";

export interface KillOptions {
  readonly kills: number;
  readonly seed: number;
  /** where notebooks are made */
  readonly folder: string;
  /** the notebook room that is killed: a built file to import */
  readonly module: string;
  /** kills until a fresh notebook is begun */
  readonly each: number;
  /** a notebook of an earlier version, whose first opening changes it */
  readonly old: string;
}

export interface KillCount {
  readonly kills: number;
  /** kills of two programs at once that write into the same notebook */
  readonly double: number;
  /** kills that fell into the opening of a notebook, before its first entry */
  readonly early: number;
  readonly acknowledged: number;
  /** entries found beyond those acknowledged: written, but killed before they could say so */
  readonly unsaid: number;
  readonly faults: readonly string[];
}

/** Entries of the notebook of an earlier version, none of which a writer here has said. */
const OLD_ENTRIES = 8;
const WRITER = fileURLToPath(new URL("notebook-writer.mjs", import.meta.url));
const SETUP = readFileSync(new URL("../../examples/strontium.json", import.meta.url), "utf8");

export async function killWriters(options: KillOptions): Promise<KillCount> {
  const random = generator(options.seed);
  const count = { kills: 0, double: 0, early: 0, acknowledged: 0, unsaid: 0 };
  const faults: string[] = [];
  let acknowledged = new Set<string>();
  let place = "";
  for (let k = 0; k < options.kills; k++) {
    if (k % options.each === 0) {
      if (place !== "") faults.push(...(await wholeOf(place, acknowledged, count)));
      place = join(options.folder, `notebook-${k}`);
      acknowledged = new Set();
      // Every second notebook is one of an earlier version, so that kills also fall into its change.
      const old = (k / options.each) % 2 === 1;
      if (old) cpSync(options.old, place, { recursive: true });
      else mkdirSync(place, { recursive: true });
      if (old) count.unsaid -= OLD_ENTRIES;
    }
    const writers = random() < 0.5 ? 2 : 1;
    const said = await killOnce(options, place, writers, random);
    count.kills += 1;
    if (writers === 2) count.double += 1;
    if (said.length === 0) count.early += 1;
    for (const uid of said) acknowledged.add(uid);
    faults.push(...leftOf(place, said).map((fault) => `kill ${k + 1}: ${fault}`));
  }
  faults.push(...(await wholeOf(place, acknowledged, count)));
  return { ...count, faults };
}

/** Starts writers, lets them write until one of them has said so many entries and a little longer, kills them all. */
async function killOnce(
  options: KillOptions,
  place: string,
  writers: number,
  random: () => number,
): Promise<string[]> {
  // After so many entries, none among them, and then within the next one or two: at any speed of the machine.
  const entries = Math.floor(30 * random() ** 2);
  const delay = 30 * random();
  const args = (): string[] => [WRITER, options.module, place, String(Math.floor(1e9 * random()))];
  const children = Array.from({ length: writers }, () =>
    spawn(process.execPath, args(), { stdio: ["ignore", "pipe", "pipe"], env: { ...process.env, SETUP } }),
  );
  const outputs = children.map((child) => gather(child, entries));
  await Promise.race(outputs.map(({ reached }) => reached));
  await new Promise((done) => setTimeout(done, delay));
  for (const child of children) child.kill("SIGKILL");
  const texts = await Promise.all(outputs.map(({ ended }) => ended));
  return texts.flatMap((text) => text.split("\n").filter((line) => /^[0-9a-f]{32}$/.test(line)));
}

/** @param lines entries said until `reached` */
function gather(
  child: ChildProcess,
  lines: number,
): { readonly reached: Promise<void>; readonly ended: Promise<string> } {
  let text = "";
  let errors = "";
  const reached = new Promise<void>((done) => {
    child.stdout?.on("data", (data: Buffer) => {
      text += data.toString("latin1");
      // One line more: the first says that the notebook is about to be opened.
      if (text.split("\n").length > lines + 1) done();
    });
    child.on("close", () => done());
  });
  child.stderr?.on("data", (data: Buffer) => {
    errors += data.toString();
  });
  const ended = new Promise<string>((done, failed) => {
    child.on("close", (_code, signal) => {
      if (signal === "SIGKILL") done(text);
      else failed(new Error(`the writer ended by itself: ${errors}`));
    });
  });
  return { reached, ended };
}

/** The database as the kill left it, and the entries acknowledged before it. */
function leftOf(place: string, said: readonly string[]): string[] {
  const path = join(place, "notebook.sqlite");
  if (!existsSync(path)) return said.length > 0 ? ["the notebook is gone"] : [];
  const faults: string[] = [];
  const db = new Database(path);
  try {
    const [check] = db.pragma("integrity_check") as { integrity_check: string }[];
    if (check.integrity_check !== "ok") faults.push(check.integrity_check);
  } finally {
    db.close();
  }
  if (said.length === 0) return faults;
  const notebook = Notebook.open(place);
  for (const uid of said) {
    try {
      for (const { sha256 } of notebook.get(uid).files) notebook.file(sha256);
    } catch (error) {
      faults.push(`${uid}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  notebook.close();
  return faults;
}

/** The whole notebook at the end: nothing altered, every file there, every acknowledged entry there, no half entry. */
async function wholeOf(
  place: string,
  acknowledged: ReadonlySet<string>,
  count: { acknowledged: number; unsaid: number },
): Promise<string[]> {
  const notebook = Notebook.openOrCreate(place);
  const { damage } = await verifyNotebook(notebook, unread);
  const present = new Set([...notebook.all()].map(({ uid }) => uid));
  const lost = [...acknowledged].filter((uid) => !present.has(uid));
  notebook.close();
  count.acknowledged += acknowledged.size;
  count.unsaid += present.size - acknowledged.size;
  rmSync(place, { recursive: true, force: true });
  return [...damage, ...lost.map((uid) => `${uid} was acknowledged and is lost`)];
}

/** The pictures here are noise: they are kept, not read. */
function unread(): never {
  throw new Refusal({ code: "noise", field: "picture", received: "noise", expected: "a picture" });
}

/** mulberry32: numbers from 0 to 1. */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
