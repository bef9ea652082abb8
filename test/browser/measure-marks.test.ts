/** Marks set by hand on the page: they reach the fit as those of `read --marks` do, stay while the picture is read again, and go through a file. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { command } from "../../src/cli/testing/command.ts";
import { decodePng, encodePng, type Frame, turned } from "../../src/picture/index.ts";
import { forecast, type JsonObject, parseSetup } from "../../src/setup/index.ts";
import { axeFindings } from "./bench-page.ts";
import { context, openForEachTest, page } from "./page-tests.ts";

const demo = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8"),
) as JsonObject;
/** The demonstration on a sensor of few pixels, so that a fit takes two seconds. */
const document: JsonObject = {
  ...demo,
  camera: {
    ...(demo["camera"] as JsonObject),
    pixel: "9.6 um",
    columns: 320,
    rows: 200,
    rate: "480000 /s",
    fullWell: 60000,
  },
};
const setup = parseSetup(document);
/** A bright stain beside the curve, as of a scratched window. */
const stain = { columns: [150, 159], rows: [60, 79] } as const;
function stained({ samples, ...frame }: Frame): Frame {
  const dirty = samples.slice();
  for (let r = stain.rows[0]; r <= stain.rows[1]; r++)
    for (let c = stain.columns[0]; c <= stain.columns[1]; c++) dirty[r * frame.columns + c] = 52_000;
  return { ...frame, samples: dirty };
}

const files: Record<"folder" | "setup" | "hot" | "cold" | "marks", string> = {
  folder: "",
  setup: "",
  hot: "",
  cold: "",
  marks: "",
};
openForEachTest({ width: 1280, height: 900 });
beforeAll(() => {
  const folder = mkdtempSync(join(tmpdir(), "crossprism-marks-"));
  for (const name of ["setup", "hot", "cold", "marks"] as const)
    files[name] = join(folder, `${name}.${name === "hot" || name === "cold" ? "png" : "json"}`);
  files.folder = folder;
  writeFileSync(files.setup, JSON.stringify(document));
  const hot = forecast({ ...setup, camera: { ...setup.camera, seed: 7 } }).frame;
  writeFileSync(files.hot, encodePng(stained(hot)));
  writeFileSync(files.cold, encodePng(forecast(setup, { cold: true }).frame));
});
afterAll(() => rmSync(files.folder, { recursive: true }));

const number = async (label: string): Promise<number> =>
  Number(
    await page.locator(".measure .numbers tr", { hasText: label }).locator("data").getAttribute("value"),
  );
const label = () => page.evaluate(() => window.document.activeElement?.getAttribute("aria-label") ?? "");
const press = async (...keys: readonly string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key);
};
async function openPictures(): Promise<void> {
  await page.locator("input[type=file][accept*=json]").first().setInputFiles(files.setup);
  await page.getByRole("button", { name: "Measure", exact: true }).click();
  await page.getByLabel(/^hot picture/).setInputFiles(files.hot);
  await page.getByLabel(/^cold picture/).setInputFiles(files.cold);
}
const idle = () => page.waitForSelector(".measure[aria-busy=false] .fitted", { timeout: 120_000 });
async function asCommandLine(): Promise<void> {
  const said = await command(
    ...["read", files.hot, "--setup", files.setup, "--cold", files.cold, "--marks", files.marks, "--json"],
  );
  expect([said.code, said.err]).toEqual([0, ""]);
  const reading = JSON.parse(said.out) as Record<string, { value: number }> & {
    readonly zeroBetweenLines: { readonly measured: { readonly value: number } };
    readonly marks: JsonObject;
  };
  for (const [name, want] of [
    ["column gradient", reading["columnGradient"].value],
    ["column density", reading["columnDensity"].value],
    ["line separation", reading["lineSeparation"].value],
    ["strength ratio", reading["fRatio"].value],
    ["zero between the lines", reading.zeroBetweenLines.measured.value],
  ] as const)
    expect(Math.abs((await number(name)) / want - 1), name).toBeLessThan(1e-9);
  expect(Object.keys(reading.marks).sort()).toEqual(["points", "region", "scale", "struck"]);
}

describe("marks by hand on the page", () => {
  it("reach the fit as the saved file does on the command line, and stay while it is read again", async () => {
    await openPictures();
    await page.getByRole("button", { name: "read it", exact: true }).click();
    await idle();
    const before = await number("column gradient");
    await page.locator(".measure").getByRole("radio", { name: "marks", exact: true }).check({ force: true });
    const save = page.getByRole("button", { name: "save the marks" });
    expect(await save.isDisabled()).toBe(true);

    // All by keyboard: a mark moved and taken back, moved again; one struck; the stain left out; a region; the scale.
    const mark = page.locator(".hand-mark").nth(2);
    const found = (await mark.getAttribute("aria-label")) ?? "";
    await mark.focus();
    await press("ArrowUp", "ArrowUp");
    expect(await mark.getAttribute("aria-label")).not.toBe(found);
    await press("Control+z");
    expect(await mark.getAttribute("aria-label")).toBe(found);
    await press("Control+Shift+z");
    expect(await mark.getAttribute("aria-label")).not.toBe(found);
    await page.locator(".hand-mark").nth(9).focus();
    await press("Delete");
    expect(await page.locator(".hand-box").count()).toBe(1);
    await page.getByRole("button", { name: "leave out an area" }).focus();
    await press("Enter");
    await expect.poll(label).toMatch(/^lower right corner, left out: columns 144–176, rows 90–110/);
    await press("Alt+ArrowLeft", ...Array<string>(15).fill("ArrowLeft"));
    await press(...Array<string>(3).fill("Shift+ArrowUp"));
    // A corner cannot pass the other one.
    expect(await label()).toMatch(/columns 144–160, rows 90–90/);
    await press("Shift+Tab");
    expect(await label()).toMatch(/^upper left corner/);
    await press("Shift+ArrowUp", "Shift+ArrowUp", "Shift+ArrowUp", ...Array<string>(4).fill("ArrowRight"));
    expect(await label()).toMatch(/columns 148–160, rows 60–90/);
    await page.getByRole("button", { name: "look only in a part" }).click();
    await expect.poll(label).toMatch(/^lower right corner, region: columns 0–319, rows 0–199/);
    await press("ArrowLeft", "ArrowLeft");
    expect(await label()).toMatch(/region: columns 0–317, rows 0–199/);
    await page.getByRole("button", { name: "two marks of the scale" }).click();
    expect(await page.getByLabel("mark 2 of the scale stands at").inputValue()).toMatch(
      /^\d{3}\.\d{4} nm vacuum$/,
    );
    const scale = page.locator(".scale-handle").nth(1);
    await scale.focus();
    await press("Alt+ArrowRight");
    // A handle stands where its pixel is, near others or not: essential, in the words of WCAG 2.2, 2.5.8.
    const onPicture = /^target-size: \S*(?:hand-mark|box-handle|scale-handle)/;
    expect((await axeFindings(page)).filter((each) => !onPicture.test(each))).toEqual([]);

    await page.getByRole("button", { name: "read again with these marks" }).click();
    await page.waitForSelector(".measure .marked", { timeout: 120_000 });
    await idle();
    expect(await page.locator(".marked").textContent()).toBe(
      "By hand: 1 point of the trace set, 2 areas left out, wavelength scale by two marks, only columns 0–317 and rows 0–199 looked at.",
    );
    // They are where they were, and the numbers are theirs.
    expect(await mark.getAttribute("aria-label")).not.toBe(found);
    expect(await page.locator(".hand-mark.struck").count()).toBe(1);
    expect(await page.locator(".hand-box").count()).toBe(3);
    expect(await page.getByRole("button", { name: "read again with these marks" }).count()).toBe(0);
    // Few pixels were left out, far from the steep branches: little changes, but ten times what the comparison below allows.
    expect(Math.abs((await number("column gradient")) / before - 1)).toBeGreaterThan(1e-8);
    const saving = page.waitForEvent("download");
    await save.click();
    const download = await saving;
    expect(download.suggestedFilename()).toBe("hot-marks.json");
    await download.saveAs(files.marks);
    await asCommandLine();

    // Read a third time, nothing changed: the same numbers.
    const third = await number("column gradient");
    await page.getByRole("button", { name: "read it", exact: true }).click();
    await page.waitForSelector(".measure[aria-busy=true]");
    await idle();
    expect(await number("column gradient")).toBe(third);
    // As found again: the next reading knows nothing of the hand.
    await page.getByRole("button", { name: "marks as found" }).click();
    await page.getByRole("button", { name: "read again with these marks" }).click();
    await page.waitForSelector(".measure .marked", { state: "detached", timeout: 120_000 });
    expect(await number("column gradient")).toBe(before);
  }, 240_000);

  it("are opened from their file before the picture is read, and a wrong file is refused in one sentence", async () => {
    await openPictures();
    const open = page.getByLabel("file of marks set by hand");
    await open.setInputFiles({
      name: "wrong.json",
      mimeType: "application/json",
      buffer: Buffer.from('{"struck": [{"columns": [9, 3], "rows": [1, 2]}]}'),
    });
    await expect
      .poll(() => page.locator(".wells .fault").allTextContents(), { timeout: 30_000 })
      .toEqual([expect.stringMatching(/^wrong\.json struck 1 columns: .*first and last pixel/)]);
    await open.setInputFiles(files.marks);
    await page.locator(".wells .file-choice", { hasText: "other marks" }).waitFor();
    expect(await page.locator(".wells .fault").count()).toBe(0);
    // The region can be typed before the first reading; the other marks stay.
    const only = page.getByLabel("look only at");
    expect(await only.inputValue()).toBe("0-317, 0-199");
    await only.fill("9-3, 1-2");
    await press("Enter");
    await expect
      .poll(() => page.locator(".wells .fault").allTextContents())
      .toEqual([
        expect.stringMatching(
          /^look only at: expected first to last column and row, .*received "9-3, 1-2"\.$/,
        ),
      ]);
    await only.fill("");
    await press("Enter");
    await expect.poll(() => page.locator(".wells .fault").count()).toBe(0);
    await only.fill(" 0-317,0-199");
    await press("Enter");
    await expect.poll(() => only.inputValue()).toBe("0-317, 0-199");
    await page.getByRole("button", { name: "read it", exact: true }).click();
    await idle();
    await asCommandLine();
    await page.locator(".measure").getByRole("radio", { name: "marks", exact: true }).check({ force: true });
    expect(await page.locator(".hand-box").count()).toBe(3);
    // The struck mark's area is there; the light in it was not looked at, so that no mark was found in it.
    const again = page.waitForEvent("download");
    await page.getByRole("button", { name: "save the marks" }).click();
    const copy = join(files.folder, "again.json");
    await (await again).saveAs(copy);
    expect(JSON.parse(readFileSync(copy, "utf8"))).toEqual(JSON.parse(readFileSync(files.marks, "utf8")));
    expect(await page.getByLabel("mark 1 of the scale stands at").inputValue()).toMatch(/nm vacuum$/);
  }, 240_000);

  it("the part to look at is drawn on the picture before it is read, by mouse, finger and keys, be it on its side or not", async () => {
    await openPictures();
    const plate = page.locator(".aim .marks-layer");
    await plate.scrollIntoViewIfNeeded();
    const only = page.getByLabel("look only at");
    const box = await plate.boundingBox();
    if (box === null) throw new Error("the picture is not shown");
    const at = (column: number, row: number) =>
      [box.x + (column * box.width) / 320, box.y + (row * box.height) / 200] as const;
    // A hand that only trembles draws nothing.
    await page.mouse.move(...at(40, 40));
    await page.mouse.down();
    await page.mouse.move(...at(40.5, 40.5));
    await page.mouse.up();
    expect(await only.inputValue()).toBe("");
    await page.mouse.move(...at(300.5, 180.5));
    await page.mouse.down();
    await page.mouse.move(...at(100, 100), { steps: 3 });
    await page.mouse.move(...at(10.5, 20.5));
    await page.mouse.up();
    expect(await only.inputValue()).toBe("10-300, 20-180");
    // A whole drag is one step; keys go on from its lower corner.
    expect(await label()).toMatch(/^lower right corner, region: columns 10–300, rows 20–180/);
    await press("Control+z");
    expect(await only.inputValue()).toBe("");
    await press("Control+Shift+Z");
    expect(await only.inputValue()).toBe("10-300, 20-180");
    const finger = await context.newCDPSession(page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", ...points: (readonly [number, number])[]) =>
      finger.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y]) => ({ x, y })) });
    await touch("touchStart", at(20.5, 10.5));
    await touch("touchMove", at(150, 100));
    await touch("touchMove", at(309.5, 189.5));
    await touch("touchEnd");
    await expect.poll(() => only.inputValue()).toBe("20-309, 10-189");
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole("button", { name: "look everywhere" }).click();
    await page.getByRole("button", { name: "look only in a part" }).click();
    await expect.poll(label).toMatch(/^lower right corner, region: columns 0–319, rows 0–199/);
    await press("ArrowLeft", "Shift+ArrowUp");
    expect(await only.inputValue()).toBe("0-318, 0-189");
    await page.getByRole("button", { name: "read it", exact: true }).click();
    await idle();
    expect(await page.locator(".marked").textContent()).toBe(
      "By hand: only columns 0–318 and rows 0–189 looked at.",
    );
    const said = await command(
      ...[
        "read",
        files.hot,
        "--setup",
        files.setup,
        "--cold",
        files.cold,
        "--region",
        "0-318,0-189",
        "--json",
      ],
    );
    const wanted = (JSON.parse(said.out) as Record<string, { value: number }>)["columnGradient"].value;
    expect(Math.abs((await number("column gradient")) / wanted - 1)).toBeLessThan(1e-9);
    // The found marks are there beside what was drawn.
    await page.locator(".measure").getByRole("radio", { name: "marks", exact: true }).check({ force: true });
    expect(await page.locator(".hand-mark").count()).toBeGreaterThan(10);
    expect(await page.locator(".hand-box.region").count()).toBe(1);

    // The same bench with the camera upright: numbers of the other picture go, this one is turned by hand and read so.
    for (const name of ["hot", "cold"] as const)
      await page.getByLabel(new RegExp(`^${name} picture`)).setInputFiles({
        name: `${name}-upright.png`,
        mimeType: "image/png",
        buffer: Buffer.from(encodePng(turned(decodePng(readFileSync(files[name]), name), "right"))),
      });
    await page.waitForSelector(".aim canvas[width='200']");
    expect(await page.locator(".measure .numbers").count()).toBe(0);
    expect(await only.inputValue()).toBe("");
    await page.getByRole("button", { name: "turn left" }).click();
    await page.waitForSelector(".aim canvas[width='320']");
    await only.fill("0-318, 0-189");
    await press("Enter");
    await page.getByRole("button", { name: "read it", exact: true }).click();
    await page.waitForSelector(".measure .marked", { timeout: 120_000 });
    expect(Math.abs((await number("column gradient")) / wanted - 1)).toBeLessThan(1e-9);
  }, 240_000);
});
