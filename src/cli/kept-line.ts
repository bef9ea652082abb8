import type { Row } from "../plan/index.ts";

/** A finished unit as one line of its file. */
export function keptLine(index: number, row: Row): string {
  return `${JSON.stringify({ unit: index, ...row })}\n`;
}
