/** Rows of a long campaign, one JSON object a line, kept as they come, so that a run that was broken off goes on. */
import { appendFileSync, existsSync, readFileSync, truncateSync } from "node:fs";

/**
 * Rows of an earlier run; none where there is no file. Half a line, left by a run that was killed while it wrote, is not read.
 * @returns what JSON makes of them: NaN has become null
 */
export function keptRows(file: string): unknown[] {
  if (!existsSync(file)) return [];
  return wholeLines(file)
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as unknown);
}

/** Cuts half a line off, so that the next row starts a line of its own. For the one process that adds rows, before its first. */
export function mendRows(file: string): void {
  if (existsSync(file)) truncateSync(file, Buffer.byteLength(wholeLines(file)));
}

export function keepRow(file: string, row: unknown): void {
  appendFileSync(file, `${JSON.stringify(row)}\n`);
}

function wholeLines(file: string): string {
  const text = readFileSync(file, "utf8");
  return text.slice(0, text.lastIndexOf("\n") + 1);
}
