/** Command lines as the documents show them: taken out of fenced blocks, split into words, compared with what is printed. */
import type { Fence } from "./markdown.ts";

/** Lines of a block of shell commands: continued lines joined, prompts and comments taken off, empty ones dropped. */
export function commandLines(fence: Fence): readonly string[] {
  return fence.lines
    .join("\n")
    .replace(/\\\n\s*/g, "")
    .split("\n")
    .map((line) =>
      line
        .replace(/^\$ /, "")
        .replace(/(?:^|\s)#\s.*$/, "")
        .trim(),
    )
    .filter((line) => line !== "");
}

/** Splits a command line into words; single and double quotes hold words together, and nothing else is special. */
export function words(line: string): readonly string[] {
  return [...line.matchAll(/(?:"[^"]*"|'[^']*'|[^\s"'])+/g)].map((match) =>
    match[0].replace(/"([^"]*)"|'([^']*)'/g, "$1$2"),
  );
}

/** The arguments for crossprism when the line calls it, however it is called; otherwise undefined. */
export function crossprismArguments(line: string): readonly string[] | undefined {
  const all = words(line);
  if (all[0] === "crossprism") return all.slice(1);
  if (all[0] === "node" && all[1] === "bin/crossprism.js") return all.slice(2);
  if (all[0] === "npx" && all[1] === "crossprism") return all.slice(2);
  return undefined;
}

/**
 * Whether a text is what a document promises. A line holding only "…" stands for any number of lines, and "…" within
 * a line for any characters; all else must be equal, but for the ends of lines and the kind of a space.
 */
export function isPromised(printed: string, promise: readonly string[]): boolean {
  const pattern = promise
    .map((line) =>
      line.trim() === "…" ? "(?:.*\n)*?" : `${line.trimEnd().split("…").map(literally).join(".*?")}[ \t]*\n`,
    )
    .join("");
  // Quantities are printed with a narrow no-break space before the unit; documents may hold a plain one.
  const text = printed
    .replaceAll("\r\n", "\n")
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .trimEnd();
  return new RegExp(`^${pattern}$`).test(`${text}\n`);
}

function literally(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
}
