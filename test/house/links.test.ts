import { existsSync } from "node:fs";
import { dirname, posix } from "node:path";
import { describe, expect, it } from "vitest";
import { anchors, fences, links } from "./markdown.ts";
import { projectFiles, root, textOf } from "./tree.ts";

const documents = projectFiles().filter((name) => name.endsWith(".md"));

describe("links inside the documents", () => {
  it.each(documents)("%s leads only to what is there", (document) => {
    const dead = links(textOf(document)).flatMap(({ target, line }) => {
      if (/^[a-z]+:/.test(target)) return [];
      const [path = "", anchor] = target.split("#");
      const file = path === "" ? document : posix.normalize(posix.join(dirname(document), path));
      if (!existsSync(root + file)) return [`${document}:${line} leads to ${file}, which is not there`];
      if (anchor === undefined || !file.endsWith(".md") || anchors(textOf(file)).has(anchor)) return [];
      return [`${document}:${line} leads to #${anchor}, which ${file} does not have`];
    });
    expect(dead).toEqual([]);
  });
});

describe("the reader of documents that the checks rest on", () => {
  const sample = [
    "# A `b`, c: d",
    "## Signs",
    "## Signs",
    'See [x](y.md#z "t"), ![p](i.png) and `[no](link)`.',
    '<a id="here"></a>',
    "```sh run",
    "# not a heading [no](link)",
    "```",
    "[ref]: other.md",
  ].join("\n");

  it("forms anchors as GitHub does and counts repeated headings", () => {
    expect([...anchors(sample)]).toEqual(["a-b-c-d", "signs", "signs-1", "here"]);
  });

  it("finds links in prose only, with their lines", () => {
    expect(links(sample)).toEqual([
      { target: "y.md#z", line: 4 },
      { target: "i.png", line: 4 },
      { target: "other.md", line: 9 },
    ]);
  });

  it("finds fenced blocks with their info words", () => {
    expect(fences("- a\n  ```ts run\n  if (b)\n    c;\n  ```\n")).toEqual([
      { info: ["ts", "run"], lines: ["if (b)", "  c;"], line: 2 },
    ]);
    expect(fences(sample)).toEqual([{ info: ["sh", "run"], lines: ["# not a heading [no](link)"], line: 6 }]);
  });
});
