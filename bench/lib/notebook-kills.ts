/** Kills programs that write into a notebook, at random moments, and looks at what is left. */

import { cpSync, existsSync, mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { Notebook, verifyNotebook } from "../../src/notebook/index.ts";
import { Refusal } from "../../src/quantity/index.ts";
import { generator } from "./generator.ts";
import { type Door, startVictim } from "./notebook-victims.ts";

export interface KillOptions {
  readonly kills: number;
  readonly seed: number;
  /** where notebooks are made */
  readonly folder: string;
  /** the program that is killed, as built: dist/node */
  readonly built: string;
  /** kills until a fresh notebook is begun */
  readonly each: number;
  /** a notebook of an earlier version, whose first opening changes it */
  readonly old: string;
}

export interface KillCount {
  readonly kills: number;
  /** programs killed, by the door through which they wrote */
  readonly doors: Readonly<Record<Door, number>>;
  /** kills of two programs at once that write into the same notebook */
  readonly double: number;
  /** kills that fell into the opening of a notebook, before its first entry */
  readonly early: number;
  readonly acknowledged: number;
  /** entries found beyond those acknowledged: written, but killed before they could say so */
  readonly unsaid: number;
  readonly faults: readonly string[];
}

/** Longest wait for writers, ms: seconds are usual. */
const PATIENCE = 60_000;
/** Entries of the notebook of an earlier version, none of which a writer here has said. */
const OLD_ENTRIES = 8;
/** Writers are drawn from these: a command takes long to start and writes once, so it comes less often. */
const SHARES: readonly Door[] = ["room", "room", "room", "server", "server", "commands"];

export async function killWriters(options: KillOptions): Promise<KillCount> {
  const random = generator(options.seed);
  const doors = { room: 0, commands: 0, server: 0 };
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
    const { said, killed } = await killOnce(options, place, random);
    count.kills += 1;
    if (killed.length > 1) count.double += 1;
    for (const door of killed) doors[door] += 1;
    if (said.length === 0) count.early += 1;
    for (const uid of said) acknowledged.add(uid);
    faults.push(...leftOf(place, said).map((fault) => `kill ${k + 1}: ${fault}`));
  }
  faults.push(...(await wholeOf(place, acknowledged, count)));
  return { ...count, doors, faults };
}

/** Starts one writer or two, lets them write until one of them has said so many entries and a little longer, kills them. */
async function killOnce(
  options: KillOptions,
  place: string,
  random: () => number,
): Promise<{ readonly said: readonly string[]; readonly killed: readonly Door[] }> {
  const said: string[] = [];
  for (;;) {
    const doors = Array.from(
      { length: random() < 1 / 3 ? 2 : 1 },
      () => SHARES[Math.floor(SHARES.length * random())],
    );
    // After so many entries, none among them, and then within the next one or two: at any speed of the machine.
    const entries = Math.floor(30 * random() ** 2);
    const delay = 30 * random();
    const seeds = doors.map(() => Math.floor(1e9 * random()));
    const victims = doors.map((door, i) =>
      startVictim({ door, built: options.built, place, seed: seeds[i], entries }),
    );
    const what = `${doors.join(" and ")}, ${entries} entries`;
    try {
      await within(Promise.race(victims.map(({ reached }) => reached)), `${what}: not written`);
      await new Promise((done) => setTimeout(done, delay));
    } finally {
      for (const victim of victims) victim.kill();
    }
    const ends = await within(Promise.all(victims.map(({ ended }) => ended)), `${what}: killed, not ended`);
    said.push(...ends.flatMap((end) => end.said));
    const killed = doors.filter((_, i) => ends[i].killed);
    if (killed.length > 0) return { said, killed };
  }
}

/** What comes of it, or an error that says what was waited for. */
async function within<T>(awaited: Promise<T>, what: string): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, failed) => {
    timer = setTimeout(() => failed(new Error(`${what} within ${PATIENCE / 1e3} s`)), PATIENCE);
  });
  return Promise.race([awaited, late]).finally(() => clearTimeout(timer));
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
