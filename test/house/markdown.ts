/** Reads what the checks of the documents need from Markdown: headings, links, fenced blocks. Not a full parser. */

/** A fenced block of code. */
export interface Fence {
  /** words after the opening fence, e.g. ["sh", "run"] */
  readonly info: readonly string[];
  /** lines between the fences */
  readonly lines: readonly string[];
  /** line number of the opening fence, from 1 */
  readonly line: number;
}

/** A link or picture. */
export interface Link {
  /** as written, e.g. "conventions.md#signs" */
  readonly target: string;
  /** line number, from 1 */
  readonly line: number;
}

/** Fenced blocks of a document, in order. */
export function fences(text: string): readonly Fence[] {
  const found: Fence[] = [];
  let open: { info: string[]; lines: string[]; line: number; indent: number } | undefined;
  for (const [index, line] of text.split("\n").entries()) {
    const indent = /^ *(?=```)/.exec(line)?.[0].length;
    if (indent === undefined) {
      // A block inside a list is indented as its fence is.
      open?.lines.push(line.startsWith(" ".repeat(open.indent)) ? line.slice(open.indent) : line.trimStart());
    } else if (open === undefined) {
      open = { info: line.trim().slice(3).trim().split(/\s+/), lines: [], line: index + 1, indent };
    } else {
      found.push({ info: open.info, lines: open.lines, line: open.line });
      open = undefined;
    }
  }
  return found;
}

/** Links and pictures outside code: `[text](target)`, `![text](target)` and `[name]: target`. */
export function links(text: string): readonly Link[] {
  return prose(text).flatMap((line, index) => {
    const inline = [...line.matchAll(/\]\(<?([^)\s>]+)>?(?:\s+"[^"]*")?\)/g)];
    const reference = [...line.matchAll(/^\s*\[[^\]]+\]:\s+(\S+)/g)];
    return [...inline, ...reference].map((match) => ({ target: match[1] ?? "", line: index + 1 }));
  });
}

/** Names that a link into this document may use after "#": of its headings, as GitHub forms them, and of `id`s. */
export function anchors(text: string): ReadonlySet<string> {
  const names = new Set<string>();
  for (const line of prose(text)) {
    const heading = /^#{1,6}\s+(.*?)\s*#*$/.exec(line)?.[1];
    if (heading !== undefined) {
      const plain = slug(heading);
      let name = plain;
      for (let again = 1; names.has(name); again++) name = `${plain}-${again}`;
      names.add(name);
    }
    for (const match of line.matchAll(/\sid="([^"]+)"/g)) names.add(match[1] ?? "");
  }
  return names;
}

function slug(heading: string): string {
  return heading
    .replace(/!?\[([^\]]*)\]\([^)]*\)/g, "$1")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}\p{M}\s_-]/gu, "")
    .replace(/\s/g, "-");
}

/** The lines of a document with those of fenced blocks blank and code spans removed, so that line numbers stay. */
function prose(text: string): readonly string[] {
  let inside = false;
  return text.split("\n").map((line) => {
    const fence = /^ *```/.test(line);
    if (fence) inside = !inside;
    return fence || inside
      ? ""
      : line.replace(/(`+)(?:(?!\1).)*\1/g, (span) => (line.startsWith("#") ? span.replaceAll("`", "") : ""));
  });
}
