import { readdirSync, readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { withoutSentences, withoutWords } from "../../scripts/lib/field-words.ts";
import { root } from "./tree.ts";

it("takes nothing but sentences from what the first view carries", () => {
  expect(withoutSentences('{ path: "a", label: "b c", sentence:\n  "It says so.", min: 1 }')).toBe(
    '{ path: "a", label: "b c", sentence:\n  "", min: 1 }',
  );
});

it("takes nothing but the fields' words from what the workers carry", () => {
  expect(withoutWords('{ path: "a", label: "b", sentence:\n  "It says so.", min: 1 }')).toBe(
    '{ path: "a", label: "", sentence:\n  "", min: 1 }',
  );
  expect(withoutWords('length("path.a", "a", "mm", 1e-3, 2, "4 mm", "What it is (a length)."),')).toBe(
    'length("path.a", "a", "mm", 1e-3, 2, "4 mm", ""),',
  );
  const folder = `${root}src/setup/`;
  const files = readdirSync(folder).filter((name) => name.startsWith("fields-"));
  const paths = /"(?:path|vessel|medium|camera)\.[\w.]+"/g;
  const values = /\b(?:min|max|default|unit|show|options|kind): [^\n]+/g;
  let saved = 0;
  for (const name of files) {
    const code = readFileSync(`${folder}${name}`, "utf8");
    const left = withoutWords(code);
    saved += code.length - left.length;
    expect(left.match(paths)).toEqual(code.match(paths));
    if (!code.includes("=> ({")) expect(left.match(values)).toEqual(code.match(values));
  }
  expect(saved).toBeGreaterThan(10000);
});
