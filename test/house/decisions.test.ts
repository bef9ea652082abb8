import { describe, expect, it } from "vitest";
import { links } from "./markdown.ts";
import { projectFiles, textOf } from "./tree.ts";

const folder = "docs/decisions/";
const decisions = projectFiles()
  .filter((name) => name.startsWith(folder) && name !== `${folder}README.md`)
  .map((name) => name.slice(folder.length))
  .sort();

describe("decisions", () => {
  it("have a number of four digits each, no two the same", () => {
    const wrong = decisions.filter((name) => !/^\d{4}-[a-z0-9-]+\.md$/.test(name));
    const numbers = decisions.map((name) => name.slice(0, 4));
    expect(wrong).toEqual([]);
    expect(numbers.filter((number, index) => numbers.indexOf(number) !== index)).toEqual([]);
  });

  it("are all listed, each once and in order, under their own titles", () => {
    const list = textOf(`${folder}README.md`);
    const listed = links(list)
      .map(({ target }) => target)
      .filter((target) => /^\d{4}-/.test(target));
    expect(listed).toEqual(decisions);
    const untitled = decisions.filter((name) => !list.includes(`[${titleOf(name)}](${name})`));
    expect(untitled).toEqual([]);
  });

  it.each(decisions)("%s opens with a title", (name) => {
    expect(titleOf(name)).not.toBe("");
  });
});

/** The first heading, without a number before it. */
function titleOf(name: string): string {
  return /^#\s+(?:\d{4}[.:]?\s+(?:[—–-]\s+)?)?(.+)$/m.exec(textOf(folder + name))?.[1]?.trim() ?? "";
}
