import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";
import { root } from "./tree.ts";

const PAGE = `${root}dist/web/`;
/** Most JavaScript of the first view, bytes: decided in docs/bench-web.md. */
const MOST = 150_000;

/** A chunk and all that it imports without waiting to be asked; what `import()` fetches later is not among them. */
function withImports(name: string, found = new Set<string>()): Set<string> {
  if (found.has(name)) return found;
  found.add(name);
  const code = readFileSync(`${PAGE}assets/${name}`, "utf8");
  for (const [, next] of code.matchAll(/(?:\bfrom|\bimport)\s*["'`]\.\/([\w.-]+\.js)["'`]/g))
    withImports(next, found);
  return found;
}

it("all that the first view shows, its worker included, is at most 150 kB of JavaScript, gzipped", () => {
  const html = readFileSync(`${PAGE}index.html`, "utf8");
  const entry = /<script[^>]+src="\.\/assets\/([\w.-]+\.js)"/.exec(html)?.[1];
  // The drawing and the figures come when the first picture stands; the findings below them come with their own rules.
  const chunks = ["foresee-worker-", "drawn-"].map((start) => {
    const named = readdirSync(`${PAGE}assets`).filter(
      (name) => name.startsWith(start) && name.endsWith(".js"),
    );
    expect(named).toHaveLength(1);
    return named[0];
  });
  const files = [...[entry!, ...chunks].reduce((all, name) => withImports(name, all), new Set<string>())];
  // Every chunk that the page asks for beforehand must have been found as an import.
  for (const [, asked] of html.matchAll(/rel="modulepreload"[^>]+href="\.\/assets\/([\w.-]+\.js)"/g))
    expect(files).toContain(asked);
  const sizes = files.map((name) => gzipSync(readFileSync(`${PAGE}assets/${name}`), { level: 9 }).length);
  expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(MOST);
});
