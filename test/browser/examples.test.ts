import { readdirSync } from "node:fs";
import { expect, it } from "vitest";
import { root } from "../house/tree.ts";
import { openForEachTest, page } from "./page-tests.ts";

openForEachTest();

const EXAMPLES = readdirSync(`${root}examples`).filter((name) => name.endsWith(".json"));

it.each(EXAMPLES)("opens %s: picture, drawing and numbers of that setup", async (name) => {
  const chosen = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "open file", exact: true }).click();
  await (await chosen).setFiles(`${root}examples/${name}`);
  await page.getByRole("button", { name: /^undo: opened/ }).waitFor();
  await page.waitForSelector("[data-settled=true]");
  expect(await page.locator(".trouble").count()).toBe(0);
  // A fault on the way would leave what hangs below the picture as it was: every card must say something finite.
  for (const text of await page.locator(".card-value").allTextContents())
    expect(text).not.toMatch(/NaN|Infinity|undefined/);
});
