/** What the command line prints: one JSON document, or text for a person; progress goes to stderr only. */

/** Typed arrays become plain arrays; a number that is not finite is the program's fault, never printed. */
export function toJson(value: unknown): string {
  return JSON.stringify(
    value,
    (key, item: unknown) => {
      if (ArrayBuffer.isView(item) && !(item instanceof DataView))
        return Array.from(item as unknown as ArrayLike<number>);
      if (typeof item === "number" && !Number.isFinite(item))
        throw new Error(`the result's ${key} is not a finite number`);
      return item;
    },
    2,
  );
}

export function print(text: string): void {
  process.stdout.write(text.endsWith("\n") ? text : `${text}\n`);
}

/** Rows of text in columns, the first left-aligned, the rest right-aligned. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, cell.length);
  }
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padEnd(widths[i] ?? 0) : cell.padStart(widths[i] ?? 0)))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

/** A number with so many significant digits, in the plainest form. */
export function digits(value: number, significant = 4): string {
  if (value === 0) return "0";
  const size = Math.abs(value);
  return size >= 1e-3 && size < 1e6
    ? String(Number(value.toPrecision(significant)))
    : value.toExponential(significant - 1);
}
