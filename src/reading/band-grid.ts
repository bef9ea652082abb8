/** Where in its list a band holds a pixel. */
import type { BandPixels } from "./band-pixels.ts";

/** Finds pixels of the band by column and row: their indices, −1 elsewhere, over the band's own rectangle. */
export class BandGrid {
  private readonly columns: number;
  private readonly rows: number;
  private readonly top: number;
  private readonly places: Int32Array;

  constructor(pixels: BandPixels) {
    let columns = 0;
    let top = Number.POSITIVE_INFINITY;
    let bottom = 0;
    for (let i = 0; i < pixels.count; i++) {
      columns = Math.max(columns, pixels.column[i] + 1);
      top = Math.min(top, pixels.row[i]);
      bottom = Math.max(bottom, pixels.row[i]);
    }
    this.columns = columns;
    this.top = pixels.count > 0 ? top : 0;
    this.rows = bottom - this.top + 1;
    this.places = new Int32Array(this.columns * this.rows).fill(-1);
    for (let i = 0; i < pixels.count; i++)
      this.places[pixels.column[i] * this.rows + pixels.row[i] - this.top] = i;
  }

  at(column: number, row: number): number {
    const r = row - this.top;
    return column < this.columns && r >= 0 && r < this.rows ? this.places[column * this.rows + r] : -1;
  }
}
