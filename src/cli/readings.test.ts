import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { encodePng, expose } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, vapourStage } from "../setup/index.ts";
import { READING_COLUMNS, readingsCsv, readingsNpy } from "./readings.ts";
import { command } from "./testing/command.ts";

const example = fileURLToPath(new URL("../../examples/potassium-grating.json", import.meta.url));
const small = ["--set", "camera.pixel=9 um", "--set", "camera.columns=400", "--set", "camera.rows=230"];
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-series-"));
  const setup = benchSetup();
  const curve = curveStage(setup, vapourStage(setup));
  const { light } = pictureStage(setup, curve);
  mkdirSync(join(folder, "run"));
  for (const k of [1, 2])
    writeFileSync(join(folder, "run", `hot-${k}.png`), encodePng(expose(light, setup.camera, k)));
  writeFileSync(join(folder, "run", "hot-3.png"), "no picture");
  const cold = pictureStage(setup, coldCurve(curve)).light;
  writeFileSync(join(folder, "cold.png"), encodePng(expose(cold, setup.camera, 9)));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("read", () => {
  it("refuses --turn where the marks were set on frames turned otherwise", async () => {
    const marks = join(folder, "marks.json");
    writeFileSync(marks, JSON.stringify({ turn: "left", struck: [{ columns: [1, 2], rows: [1, 2] }] }));
    const hot = join(folder, "run", "hot-1.png");
    const args = ["read", hot, "--setup", example, ...small, "--marks", marks];
    const clash = await command(...args, "--turn", "right");
    expect(clash.code).toBe(2);
    expect(clash.err.trim()).toBe(
      "--turn: expected left, as the frames were turned when the marks were set, or no --turn, received right.",
    );
  });
});

describe("series", () => {
  it("reads a folder into one table, says what was refused, and goes on from what is kept", async () => {
    const [csv, kept] = [join(folder, "table.csv"), join(folder, "kept.jsonl")];
    const args = [
      "series",
      join(folder, "run"),
      "--setup",
      example,
      ...small,
      "--cold",
      join(folder, "cold.png"),
      "--workers",
      "1",
    ];
    const first = await command(...args, "-o", csv, "--array", join(folder, "table.npy"), "--keep", kept);
    expect(first.code).toBe(0);
    const [head, ...rows] = readFileSync(csv, "utf8").trimEnd().split("\n");
    expect(head).toBe(`picture,time_s,${READING_COLUMNS.join(",")},refused`);
    expect(rows).toHaveLength(3);
    const gradient = rows.slice(0, 2).map((row) => Number(row.split(",")[2]));
    expect(gradient[0] / gradient[1]).toBeCloseTo(1, 2);
    expect(rows[2]).toMatch(/^hot-3\.png,.*hot-3\.png.*no picture/);
    expect(first.out).toMatch(/^hot-1\.png .* good$/m);
    expect(first.out).not.toMatch(/film/);
    const again = await command(...args, "--keep", kept, "--json");
    const { rows: kepts } = JSON.parse(again.out) as { rows: { values?: Record<string, number> }[] };
    expect(kepts[1].values?.["column_gradient_m-3"]).toBeCloseTo(gradient[1], -15);
  }, 300_000);

  it("reads a run by one fit with --shared: one ratio for all, what cannot be read takes no part", async () => {
    const args = [
      "series",
      join(folder, "run"),
      "--setup",
      example,
      ...small,
      "--cold",
      join(folder, "cold.png"),
      "--shared",
    ];
    const read = await command(...args, "--json");
    expect(read.code).toBe(0);
    const { rows, common } = JSON.parse(read.out) as {
      rows: { values?: Record<string, number>; refused?: string }[];
      common: { name: string; value: number; standardUncertainty: number }[];
    };
    expect(rows[0].values?.["strength_ratio_1"]).toBe(rows[1].values?.["strength_ratio_1"]);
    expect(rows[2].refused).toMatch(/hot-3\.png.*no picture/);
    expect(common.map((p) => p.name)).toContain("line 1");
    expect(common.every((p) => p.standardUncertainty > 0)).toBe(true);
    const clash = await command(...args, "--keep", join(folder, "other.jsonl"));
    expect(clash.code).toBe(2);
    expect(clash.err).toMatch(/^--shared: .*--keep or --workers/);
  }, 300_000);

  it("a film is unpacked by the ffmpeg on the path, as a local file only; without one that is said", async () => {
    const bin = join(folder, "bin");
    mkdirSync(bin);
    // Stands in for ffmpeg: copies the two pictures to where the frames belong, and says what it was asked.
    writeFileSync(
      join(bin, "ffmpeg"),
      `#!/bin/sh\nfor last; do :; done\ndir=$(dirname "$last")\ncp ${join(folder, "run", "hot-1.png")} "$dir/000001.png"\ncp ${join(folder, "run", "hot-2.png")} "$dir/000002.png"\necho "$@" > ${join(folder, "asked")}\necho "Stream 0: Video, 25 fps" >&2\n`,
    );
    chmodSync(join(bin, "ffmpeg"), 0o755);
    writeFileSync(join(folder, "film.mp4"), "invented film");
    const path = process.env["PATH"] ?? "";
    const args = [
      "series",
      join(folder, "film.mp4"),
      "--setup",
      example,
      ...small,
      "--cold",
      join(folder, "cold.png"),
      "--workers",
      "1",
      "--every",
      "5",
      "--json",
    ];
    try {
      process.env["PATH"] = `${bin}:${path}`;
      const read = await command(...args);
      expect(read.code).toBe(0);
      const { rows } = JSON.parse(read.out) as { rows: { picture: string; time: number }[] };
      expect(rows.map((row) => [row.picture, row.time])).toEqual([
        ["film.mp4 frame 0", 0],
        ["film.mp4 frame 5", 0.2],
      ]);
      const said = await command(...args.filter((word) => word !== "--json"));
      expect(said.out).toMatch(/^mind: a film's coding smooths/m);
      expect(readFileSync(join(folder, "asked"), "utf8")).toMatch(/-nostdin .*-protocol_whitelist file/);
      process.env["PATH"] = join(folder, "nowhere");
      const none = await command(...args);
      expect(none.code).toBe(2);
      expect(none.err).toMatch(/no ffmpeg installed/);
    } finally {
      process.env["PATH"] = path;
    }
  }, 300_000);

  it("the array is read back by numpy with the table's names", () => {
    const values = Object.fromEntries(READING_COLUMNS.map((name, k) => [name, k + 0.5]));
    const rows = [
      { picture: "a", time: 1, row: { values } },
      { picture: "b", time: null, row: { refused: 'it says "no", and why' } },
    ];
    const file = join(folder, "a.npy");
    writeFileSync(file, readingsNpy(rows));
    const code = `import numpy as n; a=n.load(${JSON.stringify(file)}); print(a.shape, a["column_density_m-2"][0], n.isnan(a["time_s"][1]), len(a.dtype.names))`;
    const { stdout, error, stderr } = spawnSync("python3", ["-c", code], { encoding: "utf8" });
    if (error === undefined && !stderr.includes("ModuleNotFoundError"))
      expect(stdout.trim()).toBe(`(2,) 3.5 True ${READING_COLUMNS.length + 1}`);
    expect(new TextDecoder("latin1").decode(readingsNpy(rows).subarray(0, 8))).toBe("\x93NUMPY\x01\x00");
    expect(readingsCsv(rows)).toMatch(/"[^\n]*it says ""no"", and why"\n$/);
  });
});
