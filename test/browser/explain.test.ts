/** What the explaining views give away: stills, films, numbers as the reader's country writes them. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openBench } from "./bench-page.ts";
import { browser, faults, openForEachTest, page, server } from "./page-tests.ts";

openForEachTest();

const open = () => page.getByRole("button", { name: "Explain", exact: true }).click();
const choose = (name: string) => page.getByRole("radio", { name, exact: true }).check({ force: true });

/** What a browser's own player makes of a film: its length, and a fingerprint and the size of frames at some times. */
async function played(
  film: Buffer,
  times: readonly number[],
): Promise<{ readonly duration: number; readonly width: number; readonly prints: readonly string[] }> {
  const context = await browser.newContext();
  try {
    const blank = await context.newPage();
    return await blank.evaluate(
      async ({ address, at }) => {
        const video = document.createElement("video");
        video.muted = true;
        video.src = address;
        await new Promise((done, failed) => {
          video.onloadeddata = done;
          video.onerror = () => failed(new Error(video.error?.message ?? "no film"));
        });
        const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
        const drawing = canvas.getContext("2d", { willReadFrequently: true });
        const prints: string[] = [];
        for (const time of at) {
          await new Promise((done) => {
            video.onseeked = done;
            video.currentTime = time;
          });
          drawing?.drawImage(video, 0, 0);
          const data =
            drawing?.getImageData(0, 0, canvas.width, canvas.height).data ?? new Uint8ClampedArray();
          let print = 0;
          for (const part of data) print = Math.imul(print ^ part, 0x01000193);
          // A corner shows nothing but the ground, which on paper is light.
          prints.push((data[0] ?? 0) < 200 ? "dark" : String(print));
        }
        return { duration: video.duration, width: video.videoWidth, prints };
      },
      { address: `data:video/webm;base64,${film.toString("base64")}`, at: times },
    );
  } finally {
    await context.close();
  }
}

describe("what can be kept of an explaining view", () => {
  it("a film of five seconds whose frames differ, which a player shows again", async () => {
    await choose("paper");
    await open();
    const before = await page.locator(".explain .answer").getAttribute("d");
    const coming = page.waitForEvent("download", { timeout: 55_000 });
    await page.getByRole("button", { name: "save as a short film" }).click();
    const download = await coming;
    expect(download.suggestedFilename()).toBe("crossprism-oscillator.webm");
    const film = readFileSync(await download.path());
    expect(film.length).toBeLessThan(3e6);
    const { duration, width, prints } = await played(film, [0.1, 1, 1.9, 2.4, 3.3, 4.1]);
    expect(duration).toBeCloseTo(5, 1);
    expect(width).toBeGreaterThan(900);
    expect(prints).not.toContain("dark");
    expect(new Set(prints).size).toBe(6);
    // The view stands again where it stood.
    await expect.poll(() => page.locator(".explain .answer").getAttribute("d")).toBe(before);
  });

  it("a still with every drawing of the view", async () => {
    await choose("paper");
    await open();
    await page.locator(".explain svg.little-tube").waitFor();
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "save as a still" }).click();
    const still = readFileSync(await (await coming).path(), "utf8");
    expect(still.match(/<svg/g)).toHaveLength(4);
    expect(still).toMatch(/<rect [^>]*fill="rgb\(2\d\d, 2\d\d, 2\d\d\)"/); // the paper's own ground
    expect(still).toContain("colour of the light that drives: ");
    expect(still).not.toMatch(/class="|var\(--/);
    expect(still.match(/viewBox="0 0 600 1[34]0"/g)).toHaveLength(2);
  });

  it("nothing moves where nothing can, and then there is no film to ask for", async () => {
    await open();
    await choose("classical and quantum");
    await page.locator(".explain svg.strengths").waitFor();
    expect(await page.getByRole("button", { name: "save as a short film" }).count()).toBe(0);
  });
});

describe("numbers of the explaining views", () => {
  it("are written as the browser is set, or as in English where that is chosen", async () => {
    const context = await browser.newContext({ locale: "de-DE", reducedMotion: "reduce" });
    try {
      const there = await openBench(context, server.url, faults);
      await there.getByRole("button", { name: "Explain", exact: true }).click();
      const output = there.locator(".explain-slider output").first();
      await expect.poll(() => output.textContent()).toMatch(/^45\d,\d{3}\snm vacuum$/u);
      await there.getByRole("radio", { name: "as in English: 457.11" }).check({ force: true });
      await expect.poll(() => output.textContent()).toMatch(/^45\d\.\d{3}\snm vacuum$/u);
    } finally {
      await context.close();
    }
  });
});
