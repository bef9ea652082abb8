/** The band against its definition, pixel by pixel. */
import { expect, it } from "vitest";
import type { LightFrame } from "./frame-light.ts";
import { pixelBand } from "./pixel-band.ts";

const MARGIN = { columns: 3, rows: 2, edge: 4 };

function frameOf(columns: number, rows: number, saturated: readonly number[]): LightFrame {
  const marks = new Uint8Array(columns * rows);
  for (const i of saturated) marks[i] = 1;
  return {
    columns,
    rows,
    light: new Float64Array(columns * rows),
    saturated: marks,
    ceiling: 1,
    saturatedCount: saturated.length,
    zeroShare: 0,
    step: 0,
    count: 0,
  };
}

/** Every pixel with light within the margins both ways, neither at the edge nor saturated. */
function byDefinition(image: Float64Array, { columns, rows, saturated }: LightFrame): number[] {
  const lit = (r: number, c: number): boolean =>
    r >= 0 && r < rows && c >= 0 && c < columns && image[r * columns + c] > 0.5;
  const list: number[] = [];
  for (let r = MARGIN.edge; r < rows - MARGIN.edge; r++)
    for (let c = MARGIN.edge; c < columns - MARGIN.edge; c++) {
      if (saturated[r * columns + c] === 1) continue;
      let near = false;
      for (let y = -MARGIN.rows; y <= MARGIN.rows; y++)
        for (let x = -MARGIN.columns; x <= MARGIN.columns; x++) near ||= lit(r + y, c + x);
      if (near) list.push(r * columns + c);
    }
  return list;
}

it.each([
  ["a curve", 61, 50, (r: number, c: number) => Math.abs(r - 12 - 0.01 * (c - 30) ** 2) < 1],
  ["single pixels", 42, 40, (r: number, c: number) => (7 * r + 11 * c) % 97 === 0],
  ["light along the edges", 44, 40, (r: number, c: number) => r < 2 || c > 41],
  ["the last row", 43, 40, (r: number) => r === 39],
  ["nothing", 40, 40, () => false],
])("%s", (_, columns, rows, lit) => {
  const image = Float64Array.from({ length: columns * rows }, (__, i) =>
    lit(Math.floor(i / columns), i % columns) ? 1 : 0.4,
  );
  const frame = frameOf(columns, rows, [columns * 14 + 20, columns * 15 + 21, columns * 9 + 9]);
  expect(Array.from(pixelBand(image, frame, 0.5, MARGIN))).toEqual(byDefinition(image, frame));
});
