import { start } from "./find-browser.ts";

/** Says once, before the tests, which browser they run in; without one that starts, no test is tried. */
export default async function announceBrowser(): Promise<void> {
  try {
    const { browser, found } = await start();
    process.stdout.write(`Testing in Chromium ${browser.version()}, ${found.origin}: ${found.path}\n`);
    await browser.close();
  } catch (error) {
    // Thrown from here, the sentence would drown in the runner's own report.
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exit(1);
  }
}
