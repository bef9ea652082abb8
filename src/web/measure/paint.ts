/** One byte a pixel, painted in the colours of the room: grey, or red alone for adapted eyes. */
import type { Theme } from "../state/theme.ts";
import type { GreyView } from "./protocol.ts";

export type Pixels = Uint8ClampedArray<ArrayBuffer>;

/** More light than foretold is copper, less is blue; in the red room brighter and darker than the middle. */
const PLUS = [240, 150, 90] as const;
const MINUS = [110, 160, 240] as const;

export function paintGrey(view: GreyView, theme: Theme): Pixels {
  const { grey, kind } = view;
  const rgba = new Uint8ClampedArray(grey.length * 4);
  const red = theme === "red";
  for (let i = 0; i < grey.length; i++) {
    const value = grey[i];
    rgba[4 * i + 3] = 255;
    if (red || kind === "light") {
      rgba[4 * i] = value;
      if (!red) rgba[4 * i + 1] = rgba[4 * i + 2] = value;
      continue;
    }
    const strength = (value - 128) / 127;
    const ink = strength > 0 ? PLUS : MINUS;
    for (let k = 0; k < 3; k++) rgba[4 * i + k] = Math.abs(strength) * ink[k];
  }
  return rgba;
}

/** Photograph in blue over forecast in copper: white where they agree; in the red room they alternate in stripes. */
export function paintOver(photograph: GreyView, forecast: GreyView, theme: Theme): Pixels {
  const { columns, grey } = photograph;
  const rgba = new Uint8ClampedArray(grey.length * 4);
  const stripe = Math.max(4, Math.round(columns / 80));
  for (let i = 0; i < grey.length; i++) {
    const [seen, foretold] = [grey[i] / 255, forecast.grey[i] / 255];
    rgba[4 * i + 3] = 255;
    if (theme === "red") {
      rgba[4 * i] = 255 * (Math.floor((i % columns) / stripe) % 2 === 0 ? seen : foretold);
      continue;
    }
    for (let k = 0; k < 3; k++) rgba[4 * i + k] = seen * MINUS[k] + foretold * PLUS[k];
  }
  return rgba;
}
