import { execFileSync, spawnSync } from "node:child_process";
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { addPicture, addRemark, exportNotebook, Notebook } from "./index.ts";
import { openDatabase } from "./database.ts";
import { touching } from "./failure.ts";

const fixture = fileURLToPath(new URL("../../test/outside/fixtures/notebook/v1", import.meta.url));
let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-disk-"));
});
afterAll(() => rmSync(scratch, { recursive: true }));

/** Whether this user may mount a small disk of its own: only then can a real full disk be tried. */
function mayMount(): boolean {
  const place = mkdtempSync(join(tmpdir(), "notebook-mount-"));
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", place]).status === 0;
  if (mounted) execFileSync("umount", [place]);
  rmSync(place, { recursive: true });
  return mounted;
}

function onDisk<T>(size: string, act: (place: string) => T): T {
  const place = join(scratch, "disk");
  mkdirSync(place, { recursive: true });
  execFileSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", place]);
  try {
    return act(place);
  } finally {
    execFileSync("umount", ["-l", place]);
  }
}

// A disk that is really full needs the right to mount one; elsewhere the same sentences are tested with faults put in by hand.
describe.skipIf(!mayMount())("a real small disk", () => {
  it("when full gives one sentence, keeps what was written, and goes on once there is room", () => {
    onDisk("1500k", (place) => {
      const folder = join(place, "notebook");
      writeFileSync(join(place, "ballast"), Buffer.alloc(300_000));
      const notebook = Notebook.create(folder);
      let written = 0;
      let refusal: unknown;
      try {
        for (;;) {
          addPicture(notebook, new Uint8Array(20_000).fill(written), { role: "hot", name: `${written}.bin` });
          written += 1;
        }
      } catch (error) {
        refusal = error;
      }
      expect(refusal).toBeInstanceOf(Refusal);
      expect(String(refusal)).toMatch(
        /expected a disk with free space, received a disk without room for this entry, which was not written\.$/,
      );
      expect(written).toBeGreaterThan(5);
      // Now nothing at all can be written; each kind of entry is refused alike.
      writeFileSync(join(place, "rest"), "");
      try {
        for (;;) writeFileSync(join(place, "rest"), Buffer.alloc(1000), { flag: "a" });
      } catch {
        // full to the last block
      }
      expect(() => {
        for (let i = 0; i < 200; i++) addRemark(notebook, { text: "x".repeat(3000) });
      }).toThrow(/expected a disk with free space, received a disk (?:without room|that failed)/);
      const zip = join(place, "out.zip");
      expect(() => exportNotebook(notebook, zip)).toThrow(/expected a disk with free space/);
      expect(existsSync(zip) || readdirSync(place).some((name) => name.endsWith(".part"))).toBe(false);
      const before = notebook.summary().entries;
      rmSync(join(place, "ballast"));
      const after = addRemark(notebook, { text: "room again" });
      expect(notebook.summary().entries).toBe(before + 1);
      notebook.close();
      const again = Notebook.open(folder);
      expect(again.get(after.uid).text).toBe("room again");
      expect(again.find({ kinds: ["picture"] }).entries).toHaveLength(written);
      expect(again.stored().faults()).toEqual([]);
      again.close();
    });
  });

  it("that may only be read is read, an old file too, and says so when something is to be added", () => {
    onDisk("2m", (place) => {
      const folder = join(place, "old");
      cpSync(fixture, folder, { recursive: true });
      execFileSync("mount", ["-o", "remount,ro", place]);
      const notebook = Notebook.open(folder, { readOnly: true });
      expect(notebook.find({ words: "uber" }).entries).toHaveLength(1);
      expect(() => addRemark(notebook, { text: "x" })).toThrow(/received a folder that may only be read\.$/);
      notebook.close();
      expect(() => Notebook.open(folder)).toThrow(
        /expected a notebook on a disk that can be written, received a folder that may only be read\.$/,
      );
      expect(() => Notebook.create(join(place, "new"))).toThrow(/received a folder that may only be read\.$/);
    });
  });
});

/** The built command line, in a shell that first does `before`; as another user where this one may write anything. */
function command(before: string, given: readonly string[], user?: number) {
  const built = fileURLToPath(new URL("../../dist/node/cli.js", import.meta.url));
  return spawnSync("sh", ["-c", `${before} exec "$0" "$@"`, process.execPath, built, ...given], {
    encoding: "utf8",
    ...(user === undefined ? {} : { uid: user, gid: user }),
  });
}

// These need no rights at all, but ulimit and permissions of a POSIX system: Windows has neither.
describe.skipIf(process.platform === "win32")("a disk that takes no more", () => {
  it("because files may not grow further: one sentence, nothing lost, and room is used again", () => {
    const folder = join(scratch, "grows");
    const notebook = Notebook.create(folder);
    addRemark(notebook, { text: "before" });
    notebook.close();
    const picture = join(scratch, "large.bin");
    writeFileSync(picture, Buffer.alloc(400_000, 7));
    // Files of at most 200 blocks of 512 bytes; a writer that is told so instead of being killed.
    const narrow = "trap '' XFSZ; ulimit -f 200;";
    const add = ["notebook", "add", "picture", picture, "--role", "hot", "--in", folder];
    const words = ["notebook", "remark", "x".repeat(60_000), "--in", folder];
    for (const given of [add, words]) {
      const refused = command(narrow, given);
      expect(refused.status, refused.stderr).not.toBe(0);
      expect(refused.stderr.trim().split("\n")).toHaveLength(1);
      expect(refused.stderr).toMatch(
        /expected a disk with free space, received a disk (?:without room|that failed)/,
      );
      expect(refused.stdout).toBe("");
    }
    const after = Notebook.open(folder);
    expect(after.find({}).entries.map(({ text }) => text)).toEqual(["before"]);
    expect(after.stored().faults()).toEqual([]);
    after.close();
    expect(command("", words).status).toBe(0);
    const again = Notebook.open(folder, { readOnly: true });
    expect(again.find({}).entries).toHaveLength(2);
    expect(again.stored().faults()).toEqual([]);
    again.close();
  });

  it("because the database itself is full: SQLite's own refusal as one sentence, the entry rolled back", () => {
    const folder = join(scratch, "pages");
    Notebook.create(folder).close();
    const { db, release } = openDatabase(folder, { now: new Date() });
    db.exec("CREATE TABLE ballast (bytes BLOB) STRICT");
    const pages = db.pragma("page_count", { simple: true }) as number;
    db.pragma(`max_page_count = ${pages + 3}`);
    const fill = (): void =>
      touching(folder, () => {
        db.prepare("INSERT INTO ballast VALUES (?)").run(Buffer.alloc(100_000));
      });
    expect(fill).toThrow(Refusal);
    expect(fill).toThrow(/expected a disk with free space, received a disk without room for this entry/);
    expect(db.prepare("SELECT count(*) AS n FROM ballast").get()).toEqual({ n: 0 });
    expect(db.pragma("integrity_check", { simple: true })).toBe("ok");
    release();
  });

  it("because the folder may only be read: it is read, and says so when something is to be added", () => {
    const folder = join(scratch, "readable");
    const notebook = Notebook.create(folder);
    addRemark(notebook, { text: "kept" });
    notebook.close();
    const modes = (file: number, place: number): void => {
      for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
        const path = join(folder, name);
        chmodSync(path, statSync(path).isDirectory() ? place : file);
      }
      chmodSync(folder, place);
    };
    chmodSync(scratch, 0o755);
    modes(0o444, 0o555);
    // The superuser may write everywhere: then another user tries.
    const user = process.getuid?.() === 0 ? 65_534 : undefined;
    const at = (given: readonly string[]) => command("", ["notebook", ...given, "--in", folder], user);
    const listed = at(["list"]);
    expect(listed.stderr).toBe("");
    expect(listed.stdout).toContain("kept");
    const refused = at(["remark", "more"]);
    expect(refused.status).not.toBe(0);
    expect(refused.stderr.trim()).toMatch(/received a folder that may only be read\.$/);
    modes(0o644, 0o755);
    const after = Notebook.open(folder, { readOnly: true });
    expect(after.find({}).entries).toHaveLength(1);
    after.close();
  });
});

describe("what a disk says", () => {
  it("becomes one sentence for each way to fail, and other faults stay faults", () => {
    const failing = (code: string) => () =>
      touching("lab", () => {
        throw Object.assign(new Error("technical"), { code });
      });
    const sentences: Readonly<Record<string, RegExp>> = {
      ENOSPC: /^lab: expected a disk with free space, received a disk without room/,
      EDQUOT: /without room/,
      SQLITE_FULL: /without room/,
      EROFS: /may only be read/,
      SQLITE_READONLY_DBMOVED: /may only be read/,
      SQLITE_CORRUPT_VTAB: /received a damaged notebook file\.$/,
      SQLITE_NOTADB: /'notebook mend' salvages/,
      SQLITE_BUSY: /another program has been writing/,
      SQLITE_IOERR_WRITE: /received a disk that failed while writing/,
      SQLITE_CANTOPEN: /cannot be opened/,
      EACCES: /cannot be opened/,
    };
    for (const [code, sentence] of Object.entries(sentences)) {
      expect(failing(code), code).toThrow(Refusal);
      expect(failing(code), code).toThrow(sentence);
    }
    expect(failing("ERR_INVALID_ARG_TYPE")).not.toThrow(Refusal);
    expect(failing("SQLITE_CONSTRAINT_UNIQUE")).toThrow("technical");
  });
});

describe("two programs at once", () => {
  it("wait for each other and lose nothing", () => {
    const folder = join(scratch, "two");
    const [one, two] = [Notebook.create(folder), Notebook.open(folder)];
    for (let i = 0; i < 40; i++) addRemark(i % 2 === 0 ? one : two, { text: `remark ${i}` });
    const texts = one.find({ limit: 100 }).entries.map(({ text }) => text);
    expect(texts).toEqual(Array.from({ length: 40 }, (_, i) => `remark ${39 - i}`));
    expect(two.find({ limit: 100 }).entries.map(({ id }) => id)).toEqual(
      Array.from({ length: 40 }, (_, i) => 40 - i),
    );
    one.close();
    two.close();
  });
});
