/** Frames and differences as one byte a pixel, for the page to paint in the colours of the room. */
import type { Frame, PixelSize } from "../../picture/index.ts";
import type { GreyView } from "./protocol.ts";

/** Mean sample of a pixel's channels, 0 … full scale. */
export function greyOf(frame: Frame): Uint16Array {
  const { channels, samples } = frame;
  const grey = new Uint16Array(frame.columns * frame.rows);
  if (channels === 1) grey.set(samples);
  else
    for (let p = 0; p < grey.length; p++)
      grey[p] = Math.round((samples[3 * p] + samples[3 * p + 1] + samples[3 * p + 2]) / 3);
  return grey;
}

/** For every sample value 0 … 1: from the darkest half to the brightest thousandth, faint branches lifted by a square root. */
function stretchOf(grey: Uint16Array, top: number): Float32Array {
  const histogram = new Uint32Array(top + 1);
  for (let p = 0; p < grey.length; p++) histogram[grey[p]] += 1;
  const quantile = (share: number): number => {
    let seen = 0;
    let value = 0;
    while (value < top && seen + histogram[value] < share * grey.length) seen += histogram[value++];
    return value;
  };
  const dark = quantile(0.5);
  const span = Math.max(quantile(0.999) - dark, 1);
  const stretch = new Float32Array(top + 1);
  for (let value = 0; value <= top; value++)
    stretch[value] = Math.min(1, Math.sqrt(Math.max(0, (value - dark) / span)));
  return stretch;
}

/** The frame's pixels as 0 … 1, stretched so that faint branches are seen. */
export function stretched(frame: Frame): Float32Array {
  const grey = greyOf(frame);
  const stretch = stretchOf(grey, frame.depth === 8 ? 255 : 65535);
  const out = new Float32Array(grey.length);
  for (let p = 0; p < out.length; p++) out[p] = stretch[grey[p]];
  return out;
}

export function lightView(frame: Frame): GreyView {
  const light = stretched(frame);
  const grey = new Uint8Array(light.length);
  for (let p = 0; p < grey.length; p++) grey[p] = Math.round(255 * light[p]);
  return { columns: frame.columns, rows: frame.rows, grey, kind: "light" };
}

/** @param at −1 … 1 at a pixel, cut there */
export function signedView({ columns, rows }: PixelSize, at: (pixel: number) => number): GreyView {
  const grey = new Uint8Array(columns * rows);
  for (let i = 0; i < grey.length; i++) grey[i] = 128 + Math.round(127 * Math.max(-1, Math.min(1, at(i))));
  return { columns, rows, grey, kind: "signed" };
}
