/** A spot of light in a picture. */
export interface Spot {
  /** middle, pixels to the right of and above the middle of the picture */
  readonly right: number;
  readonly up: number;
  /** variance across and along the height, pixels² */
  readonly wide: number;
  readonly high: number;
  /** light altogether */
  readonly light: number;
}

/** Weighs what is brighter than a hundredth of the sensor's range between two columns. */
export function spotIn(
  picture: Float64Array,
  from: number,
  to: number,
  { columns, rows }: { readonly columns: number; readonly rows: number },
): Spot {
  let [light, x, y, xx, yy] = [0, 0, 0, 0, 0];
  for (let r = 0; r < rows; r++) {
    for (let c = from; c < to; c++) {
      const own = picture[r * columns + c];
      if (own < 0.01) continue;
      const [right, up] = [c + 0.5 - columns / 2, rows / 2 - r - 0.5];
      light += own;
      x += own * right;
      y += own * up;
      xx += own * right * right;
      yy += own * up * up;
    }
  }
  if (!(light > 0)) throw new Error("no spot");
  const [right, up] = [x / light, y / light];
  return { right, up, wide: xx / light - right * right, high: yy / light - up * up, light };
}
