import { describe, expect, it } from "vitest";
import { axeFindings } from "./bench-page.ts";
import { openForEachTest, page } from "./page-tests.ts";

openForEachTest();

const open = (name: string) => page.getByRole("button", { name, exact: true }).click();
const choose = (name: string) => page.getByRole("radio", { name, exact: true }).check({ force: true });

/** Each with what shows that it is filled. */
const LEAVES = [
  ["Inside the tube", ".field-map canvas"],
  ["Curves", ".blurs table"],
  ["Words", ".terms dt"],
  ["Compare", ".compare"],
  ["Explain", ".explain svg.swinging"],
] as const;

describe("what opens from the line of the day", () => {
  it.each(LEAVES)("passes the checks for accessibility in every theme: %s", async (name, filled) => {
    await open(name);
    await page.locator(filled).first().waitFor();
    if (name === "Compare") {
      await page.getByRole("button", { name: "hold the open setup" }).click();
      await page.locator(".compare table").first().waitFor();
    }
    for (const theme of ["lab", "red", "paper"]) {
      await choose(theme);
      expect(await axeFindings(page), theme).toEqual([]);
    }
  });

  it("draws density, temperature and supersaturation of the tube that is open, and follows it", async () => {
    await open("Inside the tube");
    const words = page.locator(".field-map figcaption").nth(1);
    await expect
      .poll(() => words.textContent())
      .toMatch(/plumb plane.*from 1\.03 times 10 to the 18 to 2\.6\d? times 10 to the 22/);
    await choose("temperature");
    await expect.poll(() => words.textContent()).toMatch(/ to 28\d/);
    await page.getByRole("textbox", { name: "below", exact: true }).fill("320 degC");
    await page.keyboard.press("Enter");
    await expect.poll(() => words.textContent(), { timeout: 20_000 }).toMatch(/ to 3[12]\d/);
  });

  it("holds a setup and says what differs from it", async () => {
    await open("Compare");
    await page.getByRole("button", { name: "hold the open setup" }).click();
    await page.getByRole("textbox", { name: "below", exact: true }).fill("300 degC");
    await page.keyboard.press("Enter");
    const differs = page.getByRole("row", { name: /^below/ });
    await expect.poll(() => differs.textContent(), { timeout: 20_000 }).toMatch(/285\s°C300\s°C/u);
    await expect
      .poll(
        () =>
          page
            .locator(".compare")
            .getByRole("row", { name: /^column density/ })
            .textContent(),
        { timeout: 20_000 },
      )
      .toMatch(/1\.[45]\d$/);
  });

  it("explains every view from the open setup", async () => {
    await open("Explain");
    for (const [view, says] of [
      ["one oscillator", /lags by 0\.000 of a turn/],
      ["why the curve breaks", /are hidden/],
      ["two oscillators", /cancels at 458\.7\d\d\snm vacuum; the whole vapour of this setup at 457\.1/u],
      ["classical and quantum", /more than one electron/],
      ["three velocities", /a long pulse at 0\.9/],
      ["a prism of vapour", /both change sides/],
      ["cold to hot", /9 curves from cold to hot/],
    ] as const) {
      await choose(view);
      await expect.poll(() => page.locator(".explain").textContent(), { timeout: 30_000 }).toMatch(says);
    }
  });
});
