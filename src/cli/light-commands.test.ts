import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePng, FATES } from "../picture/index.ts";
import { OUTPUTS } from "./schemas.ts";
import { command as said } from "./testing/command.ts";

const examples = join(import.meta.dirname, "../../examples");
const twins = join(examples, "blue-twins.json");
const small = ["--set", "camera.columns=160", "--set", "camera.rows=100", "--set", "camera.pixel=19.2 um"];
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-light-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const read = (...names: string[]): string => readFileSync(join(folder, ...names), "utf8");
const png = (...names: string[]) => decodePng(new Uint8Array(readFileSync(join(folder, ...names))));

describe("forecast with more", () => {
  it("writes ledger, signal, screen and comparison, and says them in the summary's schema", async () => {
    const { code, out } = await said(
      ...["forecast", twins, ...small, "-o", join(folder, "more"), "--json"],
      ...["--ledger", "--signal", "--fog", "--screen", "--compare"],
    );
    expect(code).toBe(0);
    const summary = OUTPUTS.forecast.parse(JSON.parse(out));
    expect(summary.ledger?.imbalance).toBeLessThan(1e-12);
    const totals: readonly number[] = Object.values(summary.ledger?.totals ?? {});
    expect(totals.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(summary.rays?.traced).toBe(6);
    expect(summary.signal?.signalToNoise).toBeGreaterThan(50);
    expect(summary.screen?.brightest.luminance).toBeGreaterThan(0);
    expect(read("more", "ledger.svg")).toMatch(
      /absorbed by the vapour<.*wavelength in vacuum, nm|wavelength in vacuum, nm.*absorbed by the vapour</s,
    );
    const ledger = read("more", "ledger.csv").trim().split("\n");
    expect(ledger[0]).toBe(`wavelength_vacuum_m,${FATES.join(",")}`);
    const shares = ledger[200].split(",").slice(1).map(Number);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 6);
    expect(read("more", "signal.csv").split("\n")[0]).toBe(
      "column_px,wavelength_vacuum_m,row_px,electrons,noise,signal_to_noise,height_error_px",
    );
    const curve = read("more", "curve.csv").trim().split("\n").slice(1);
    const fog = read("more", "fog.csv").trim().split("\n");
    expect(fog[0]).toBe(
      "wavelength_vacuum_m,deflection_low_rad,deflection_high_rad,transmission_low,transmission_high",
    );
    expect(fog).toHaveLength(curve.length + 1);
    for (const [i, row] of fog.slice(1).entries()) {
      const [at, low, high, dimmest, brightest] = row.split(",").map(Number);
      const [wavelength, deflection, transmission] = curve[i].split(",").map(Number);
      expect(at).toBe(wavelength);
      expect(low).toBeLessThanOrEqual(deflection);
      expect(high).toBeGreaterThanOrEqual(deflection);
      expect(dimmest).toBeLessThanOrEqual(transmission);
      expect(brightest).toBeGreaterThanOrEqual(transmission);
    }
    expect(read("more", "screen.csv").trim().split("\n")).toHaveLength(66);
    expect(png("more", "compare.png").rows).toBe(208);
    expect(png("more", "ledger.png").columns).toBe(160);
    expect(png("more", "screen.png").channels).toBe(3);
  });

  it("shows a mosaic in colours and stores it as it was read", async () => {
    const { code } = await said(
      ...["forecast", twins, ...small, "-o", join(folder, "bayer"), "--set", "camera.filter=bayer"],
    );
    expect(code).toBe(0);
    expect(png("bayer", "picture.png").channels).toBe(1);
    const { samples } = png("bayer", "view.png");
    let red = 0;
    let blue = 0;
    for (let p = 0; p < samples.length; p += 3) {
      red += samples[p];
      blue += samples[p + 2];
    }
    expect(blue).toBeGreaterThan(4 * red);
  });

  it("makes numbered pictures of drifting smoke, and a film where an encoder stands on the path", async () => {
    const bin = join(folder, "bin");
    const film = ["--film", "smoke", "--frames", "3", "--set", "path.smoke=0.6"];
    const before = process.env["PATH"];
    try {
      process.env["PATH"] = join(folder, "nothing");
      const without = await said("forecast", twins, ...small, "-o", join(folder, "smoke"), ...film);
      expect(without.out).toMatch(/3 numbered pictures.*no encoder/);
      expect(readdirSync(join(folder, "smoke", "film")).sort()).toEqual([
        "film.csv",
        "frame-0001.png",
        "frame-0002.png",
        "frame-0003.png",
      ]);
      mkdirSync(bin);
      // Stands in for the encoder: writes its arguments to the file that it is asked for.
      writeFileSync(join(bin, "ffmpeg"), '#!/bin/sh\nfor last; do :; done\necho "$@" > "$last"\n');
      chmodSync(join(bin, "ffmpeg"), 0o755);
      process.env["PATH"] = `${bin}${delimiter}${before ?? ""}`;
      const encoded = await said("forecast", twins, ...small, "-o", join(folder, "smoke"), ...film);
      expect(encoded.out).toMatch(/3 pictures and film\.mp4/);
      expect(read("smoke", "film", "film.mp4")).toMatch(/frame-%04d\.png/);
    } finally {
      process.env["PATH"] = before;
    }
    const rows = read("smoke", "film", "film.csv").trim().split("\n");
    expect(rows[0]).toBe("frame,time_s,light_left");
    const left = rows.slice(1).map((row) => Number(row.split(",")[2]));
    expect(new Set(left).size).toBe(3);
    for (const share of left) expect(share).toBeGreaterThan(0.1);
  });

  it("follows a warm-up, and refuses films that the setup cannot give", async () => {
    const heated = join(examples, "heater-sodium.json");
    const { code, err } = await said(
      ...["forecast", heated, ...small, "-o", join(folder, "warm")],
      ...["--film", "warm-up", "--frames", "3", "--until", "15 min"],
    );
    expect(err).toBe("");
    expect(code).toBe(0);
    const rows = read("warm", "film", "film.csv").trim().split("\n").slice(1);
    const bottom = rows.map((row) => Number(row.split(",")[2]));
    const column = rows.map((row) => Number(row.split(",")[4]));
    expect(bottom[2]).toBeGreaterThan(bottom[0] + 20);
    expect(column[2]).toBeGreaterThan(3 * column[0]);
    for (const [args, field] of [
      [[twins, "--film", "warm-up"], "--film"],
      [[twins, "--film", "smoke"], "path.smoke"],
      [[twins, "--film", "opera"], "--film"],
      [[twins, "--film", "smoke", "--frames", "1", "--set", "path.smoke=1"], "--frames"],
    ] as const) {
      const refused = await said("forecast", ...args, ...small, "-o", join(folder, "refused"));
      expect(refused.code).toBe(2);
      expect(refused.err.startsWith(field)).toBe(true);
    }
  });
});

describe("rays that meet the wall", () => {
  it("are told by check and forecast: a bore hardly wider than the beam, at a steep gradient", async () => {
    const narrow = ["vessel.bore=9 mm", "vessel.bottom=330 degC", "camera.pixel=80 um"];
    const settings = [...small, ...narrow.flatMap((field) => ["--set", field])];
    const told = await said("check", twins, ...settings, "--json");
    const found = OUTPUTS.check
      .parse(JSON.parse(told.out))
      .findings.find(({ code }) => code === "rays-meet-wall");
    expect(found?.level).toBe("mind");
    expect(found?.sentence).toMatch(/^2 of 6 traced rays meet the wall of the tube/);
    const { out } = await said("forecast", twins, ...settings, "-o", join(folder, "narrow"), "--json");
    const { rays } = OUTPUTS.forecast.parse(JSON.parse(out));
    expect(rays?.wallHits).toBe(2);
    // A tube of usual width loses none.
    const wide = await said("check", twins, ...small, "--json");
    expect(wide.out).not.toContain("rays-meet-wall");
  });
});

describe("slits for a wish", () => {
  it("names the widest that grant it", async () => {
    const { out } = await said(
      "check",
      twins,
      ...small.slice(0, 4),
      "--wish",
      "0.2 nm",
      "--wish",
      "120 urad",
      "--json",
    );
    const { slits } = OUTPUTS.check.parse(JSON.parse(out));
    expect(slits?.[0].plumbSlit).toBeGreaterThan(15e-6);
    expect(slits?.[1].levelSlit).toBeGreaterThan(5e-6);
    const words = await said("check", twins, ...small, "--wish", "class");
    expect(words.out).toMatch(/5 lx on 1 m of screen/);
  });

  it.each([
    ["0.01 nm", /^--wish: expected at least 0\.\d+ nm, .* received 0\.01 nm;/],
    ["3 kg", /^--wish/],
    ["-1 nm", /^--wish/],
  ])("refuses %s", async (wish, expected) => {
    const { code, err } = await said("check", twins, "--wish", wish);
    expect(code).toBe(2);
    expect(err).toMatch(expected);
  });
});

describe("prism", () => {
  it("designs both trains from two glass codes, and draws them", async () => {
    const args = ["prism", "--crown", "517642", "--flint", "728284"];
    const { out, code } = await said(...args, "-o", join(folder, "prism"), "--json");
    expect(code).toBe(0);
    const { designs, wavelength } = OUTPUTS.prism.parse(JSON.parse(out));
    expect(designs.map(({ elements }) => elements)).toEqual([3, 5]);
    const straight = wavelength.findIndex((w) => Math.abs(w - 589.3e-9) < 1e-13);
    for (const { deviation, margin, dispersion, rays, edges, pieces, height, inside, kept } of designs) {
      expect(Math.abs(deviation[straight] ?? 1)).toBeLessThan(1e-9);
      // The apex was sought for 5 degrees of room in blocks of three apertures at most: one of the two binds.
      const room = Math.min(...margin.map((m) => m ?? -1)) / ((5 * Math.PI) / 180);
      expect(Math.min(room, 0.06 / height)).toBeCloseTo(1, 4);
      expect(dispersion[0]).toBeGreaterThan(dispersion[7] ?? Infinity);
      // The whole beam of every colour stays within the blocks, to the last face.
      expect(rays).toHaveLength(wavelength.length);
      for (const edge of edges)
        for (const [, x] of edge.slice(1, -1)) expect(Math.abs(x)).toBeLessThanOrEqual(height / 2 + 1e-9);
      expect(pieces.length).toBeGreaterThanOrEqual(3);
      // Violet: absorbed by the dense flint.
      expect(inside[0]).toBeLessThan(inside[7] - 0.05);
      for (const share of kept) expect(share).toBeCloseTo(1, 9);
    }
    // The flint outside: blocks of three apertures at most are looked for.
    const turned = await said("prism", "--crown", "728284", "--flint", "517642", "--json");
    for (const { height } of OUTPUTS.prism.parse(JSON.parse(turned.out)).designs)
      expect(height).toBeLessThanOrEqual(0.06 + 1e-9);
    expect(read("prism", "prism-5.svg")).toMatch(/^<svg .*scale 1:1/s);
    const words = await said(...args, "--elements", "3", "--flint-apex", "100 deg", "--at", "589 nm");
    expect(words.out).toMatch(/outer crown 80\.08/);
    expect(existsSync(join(folder, "prism", "prism-3.svg"))).toBe(true);
  });

  it.each([
    [["--flint-apex", "160 deg"], /^--flint-apex/],
    [["--margin", "80 deg"], /^--margin/],
    [["--flint", "517642"], /^--flint: expected two glasses that differ/],
    [["--at", "150 nm"], /^--undeviated or --at: expected a wavelength/],
    [["--crown", "51764"], /^--crown: expected a six-digit/],
    [["--elements", "4"], /^--elements/],
    [["--aperture", "0 mm"], /^--aperture/],
  ])("refuses %s", async (args, expected) => {
    const { code, err } = await said("prism", "--crown", "517642", "--flint", "728284", ...args);
    expect(code).toBe(2);
    expect(err).toMatch(expected);
  });
});

describe("bench", () => {
  it("draws to the stated scale and lists the distances", async () => {
    const { out, code } = await said(
      "bench",
      twins,
      "-o",
      join(folder, "bench"),
      "--scale",
      "1:20",
      "--json",
    );
    expect(code).toBe(0);
    const { distances } = OUTPUTS.bench.parse(JSON.parse(out));
    const sensor = distances[distances.length - 1];
    const sum = distances.reduce((total, { next }) => total + (next ?? 0), 0);
    expect(sum).toBeCloseTo(sensor.from, 12);
    const svg = read("bench", "bench.svg");
    // Paper between lamp and sensor: their distance over twenty, in mm, and 14 mm on either side.
    const width = Number(/width="([\d.]+)mm"/.exec(svg)?.[1]);
    expect(width).toBeCloseTo((sensor.from * 1000) / 20 + 28, 1);
    expect(svg).toMatch(
      /scale 1:20 along the light; across it \d+ times larger<.*bends of the light \d+ times larger/s,
    );
    expect(read("bench", "distances.csv").trim().split("\n")).toHaveLength(12);
    expect((await said("bench", twins, "--scale", "ten")).err).toMatch(/^--scale/);
    expect((await said("bench", join(examples, "cell-sodium.json"), "-o", join(folder, "cell"))).code).toBe(
      0,
    );
    expect(read("cell", "bench.svg")).toMatch(/the vapour bends the light too little to draw/);
  });
});

describe("index of a layer before an ordinary spectroscope", () => {
  const sodium = [
    "index",
    "--element",
    "Na",
    "--temperature",
    "2000 K",
    "--density",
    "1e18 m-3",
    "--gas",
    "N2 101325 Pa",
  ];
  const range = ["--from", "589.5 nm", "--to", "590 nm", "--points", "101", "--layer", "20 mm"];

  it("shows a dark line before a lamp and says how dark", async () => {
    const { out } = await said(...sodium, ...range, "--lamp", "3200 K", "--json");
    const { spectroscope } = OUTPUTS.index.parse(JSON.parse(out));
    expect(spectroscope?.contrast).toBeLessThan(-0.05);
    const words = await said(...sodium, ...range, "--lamp", "3200 K");
    expect(words.out).toMatch(/% darker than the spectrum beside it, at a resolution of 0\.1 nm/);
  });

  it("shows self-reversal behind a mantle, and refuses words that are none", async () => {
    const alone = ["--lamp", "3200 K", "-o", join(folder, "layer")];
    expect((await said(...sodium, ...range, ...alone)).out).toMatch(/layer\.svg and index\.json stand/);
    expect(read("layer", "layer.svg")).toMatch(/The layer before a lamp of 3200 K/);
    expect(read("layer", "index.svg")).toMatch(/n = 1 of the metal alone at/);
    const mantle = ["--mantle", "1500 K 1e19 m-3 5 mm", "--resolution", "0.005 nm"];
    expect((await said(...sodium, ...range, ...mantle)).out).toMatch(/bright and reversed in itself/);
    expect((await said(...sodium, ...range, "--mantle", "cool")).err).toMatch(/^--mantle/);
    expect((await said("index", "--medium", "water", "--at", "589 nm", "--layer", "1 mm")).err).toMatch(
      /^--layer/,
    );
    expect((await said(...sodium, ...range, "--lamp", "0 K")).err).toMatch(/^--lamp/);
  });
});
