/** A canvas of the page on which a worker draws: pictures that follow a hand never pass through the page's own thread. */
export interface Screen {
  /** Draws a picture, RGBA, rows × columns; the bytes may be used again afterwards. */
  show(columns: number, rows: number, rgba: Uint8ClampedArray<ArrayBuffer>): void;
}

/** Undefined where the browser has no drawing in workers. */
export function createScreen(canvas: OffscreenCanvas): Screen | undefined {
  const context = canvas.getContext("2d", { alpha: false });
  if (context === null) return undefined;
  return {
    show(columns, rows, rgba) {
      if (canvas.width !== columns) canvas.width = columns;
      if (canvas.height !== rows) canvas.height = rows;
      context.putImageData(new ImageData(rgba, columns, rows), 0, 0);
    },
  };
}
