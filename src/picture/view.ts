/** A picture to look at: light or a frame in the colours of its wavelengths. */
import { pow, sin } from "../numerics/elementary/index.ts";
import type { SpectralMap } from "../path/api.ts";
import type { Frame } from "./api.ts";
import { cameraColour, screenValue, spectralHue, tristimulus, WHITE_IN_FULL } from "./colour.ts";
import type { Sensor } from "./light.ts";
import type { PaintKernel } from "./paint-kernel.ts";
import { type Arrays, fits, reserve, SCREEN_STEPS, viewLengths, type Workspace } from "./workspace.ts";

export interface ViewOptions {
  /**
   * One of "camera" (default: every wavelength in its hue at equal brightness, see `cameraColour` for the white in it), "eye" (weighted with the eye's sensitivity, the brightest wavelength of the
   * picture full), "grey".
   */
  readonly colours?: "camera" | "eye" | "grey";
  /** light that shows as full brightness; default 1 (the cold line) */
  readonly white?: number;
  /** roll of the camera, rad, so that colours keep to their lines; default 0 */
  readonly roll?: number;
  /** where to write, rows · columns · 4; default fresh */
  readonly into?: Uint8ClampedArray<ArrayBuffer>;
  /** memory to use again, with whose kernel the same bytes are made sooner: they lie in it and stand until it is used again */
  readonly workspace?: Workspace;
}

const STEPS = SCREEN_STEPS;
const BLACK = 0xff000000;
const SCREEN = screenTable();
/** Columns from one colour that is worked out to the next at most, and colours over the width at least. */
const APART = 8;
const COLOURS = 160;

/**
 * RGBA picture, 8 bits, sRGB, of relative light.
 * Colours go by the wavelength that falls on a place, the camera's roll included; the bow of the lines shifts them by less than the eye can see.
 * @param light relative light, rows × columns, row-major
 * @returns RGBA, row-major, opaque; say FALSE_COLOUR_NOTE beside it where wavelengths beyond 400–700 nm are on the sensor
 */
export function viewImage(
  light: Float32Array,
  map: SpectralMap,
  sensor: Sensor,
  options: ViewOptions = {},
): Uint8ClampedArray<ArrayBuffer> {
  const { columns, rows } = sensor;
  const count = columns * rows;
  const sine = sin(options.roll ?? 0);
  const margin = Math.ceil((Math.abs(sine) * rows) / 2) + 1;
  const colours = options.colours ?? "camera";
  const painting: Painting = {
    hue: huesOf(options.workspace, map, sensor, margin, colours),
    margin,
    sine,
    gain: STEPS / (options.white ?? 1),
    fullest: colours === "camera" ? WHITE_IN_FULL : 0,
  };
  const { workspace, into } = options;
  if (workspace?.kernel === undefined) {
    const out = into ?? new Uint8ClampedArray(count * 4);
    paint(light, new Uint32Array(out.buffer, out.byteOffset, count), sensor, painting);
    return out;
  }
  const words = paintFast(light, workspace, workspace.kernel, sensor, painting);
  const made = new Uint8ClampedArray(words.buffer, words.byteOffset, count * 4);
  if (into === undefined) return made;
  into.set(made);
  return into;
}

interface Painting {
  /** linear sRGB of full light in each column, `margin` columns more on either side: all red, all green, all blue */
  readonly hue: Float32Array;
  readonly margin: number;
  readonly sine: number;
  readonly gain: number;
  readonly fullest: number;
}

function paint(light: Float32Array, words: Uint32Array, sensor: Sensor, painting: Painting): void {
  const { columns, rows } = sensor;
  const { hue, margin, sine, gain, fullest } = painting;
  const towards = fullest / STEPS;
  const hues = hue.length / 3;
  for (let r = 0, p = 0; r < rows; r++) {
    // A line leaning with the camera stands (height above the middle)·sin(roll) to the left.
    const shift = margin + Math.floor((rows / 2 - r - 0.5) * sine + 0.5);
    for (let c = shift; c < shift + columns; c++, p++) {
      const level = light[p] * gain;
      if (level < 1) {
        // Most of a picture is dark, and the table's first step is black.
        words[p] = BLACK;
        continue;
      }
      // Towards white as the pixel fills, by the same share in all three.
      const white = level < STEPS ? level * towards : fullest;
      const own = level * (1 - white);
      const a = own * hue[c] + level * white;
      const b = own * hue[c + hues] + level * white;
      const d = own * hue[c + 2 * hues] + level * white;
      words[p] =
        SCREEN[a < STEPS ? a | 0 : STEPS] |
        (SCREEN[b < STEPS ? b | 0 : STEPS] << 8) |
        (SCREEN[d < STEPS ? d | 0 : STEPS] << 16) |
        (255 << 24);
    }
  }
}

function paintFast(
  light: Float32Array,
  space: Workspace,
  kernel: PaintKernel,
  sensor: Sensor,
  { hue, margin, sine, gain, fullest }: Painting,
): Arrays["words"] {
  const { columns, rows } = sensor;
  const lent = light.buffer === space.arrays.picture.buffer;
  const wanted = { ...viewLengths(columns, rows), hue: hue.length };
  // Light that lies in the workspace itself would be lost if that had to grow.
  const kept = lent && !fits(space, wanted) ? light.slice() : light;
  const { picture, words, screen, ...arrays } = reserve(space, wanted);
  if (!lent || kept !== light) picture.set(kept);
  arrays.hue.set(hue);
  screen.set(SCREEN);
  // biome-ignore format: in the order of paint.as
  kernel.view(
    picture.byteOffset, words.byteOffset, columns, rows, arrays.hue.byteOffset, hue.length / 3, margin, sine,
    screen.byteOffset, STEPS, gain, fullest,
  );
  return words;
}

/**
 * Relative light that a frame stands for: (sample/full scale)^gamma less the black level, colour channels averaged.
 * @param full light that full scale stands for, 1 by default
 */
export function lightOfFrame(frame: Frame, gamma: number, blackLevel: number, full = 1): Float32Array {
  const top = frame.depth === 8 ? 255 : 65535;
  const table = new Float32Array(top + 1);
  for (let s = 0; s <= top; s++)
    table[s] = (Math.max(0, pow(s / top, gamma) - blackLevel) / (1 - blackLevel)) * full;
  const count = frame.columns * frame.rows;
  const out = new Float32Array(count);
  const { channels, samples } = frame;
  for (let p = 0; p < count; p++) {
    let sum = 0;
    for (let c = 0; c < channels; c++) sum += table[samples[p * channels + c]];
    out[p] = sum / channels;
  }
  return out;
}

/** An RGBA picture as a colour frame, e.g. to be written as a PNG file. */
export function frameOfView(rgba: Uint8ClampedArray, columns: number, rows: number): Frame {
  const samples = new Uint8Array(columns * rows * 3);
  for (let p = 0; p < columns * rows; p++) {
    samples[3 * p] = rgba[4 * p]!;
    samples[3 * p + 1] = rgba[4 * p + 1]!;
    samples[3 * p + 2] = rgba[4 * p + 2]!;
  }
  return { columns, rows, channels: 3, depth: 8, samples };
}

/** As `columnColours`; a workspace keeps them for the next picture. */
function huesOf(space: Workspace | undefined, ...given: Parameters<typeof columnColours>): Float32Array {
  const [map, { columns, pixel }, margin, colours] = given;
  const of = [map, columns, pixel, margin, colours];
  const was = space?.hues;
  if (was !== undefined && of.every((part, i) => part === was.of[i])) return was.hue;
  const hue = columnColours(...given);
  if (space !== undefined) space.hues = { of, hue };
  return hue;
}

/** Linear sRGB of full light in each column, `margin` columns more on either side: all red, all green, all blue. */
function columnColours(
  map: SpectralMap,
  sensor: Sensor,
  margin: number,
  colours: "camera" | "eye" | "grey",
): Float32Array {
  const { pixel } = sensor;
  const columns = sensor.columns + 2 * margin;
  const parts = new Float32Array(3 * columns);
  if (colours === "grey") return parts.fill(1);
  const { left, right } = map.reach;
  const sight = new Float32Array(columns);
  const middle = columns / 2 - 0.5;
  const apart = Math.max(1, Math.min(APART, Math.floor(columns / COLOURS)));
  const own = colours === "camera" ? cameraColour : spectralHue;
  let brightest = 0;
  let from = colourAt(map, own, Math.min(right, Math.max(left, -middle * pixel)));
  for (let c = 0; c < columns; c += apart) {
    const to = colourAt(map, own, Math.min(right, Math.max(left, (c + apart - middle) * pixel)));
    for (let k = 0; k < apart && c + k < columns; k++) {
      const x = (c + k - middle) * pixel;
      if (!(x >= left && x <= right)) continue;
      const t = k / apart;
      for (let i = 0; i < 3; i++) parts[i * columns + c + k] = from.hue[i] * (1 - t) + to.hue[i] * t;
      sight[c + k] = from.sight * (1 - t) + to.sight * t;
      brightest = Math.max(brightest, sight[c + k]);
    }
    from = to;
  }
  if (colours === "eye") {
    for (let c = 0; c < columns; c++) {
      const factor = brightest > 0 ? sight[c] / brightest : 0;
      for (let i = 0; i < 3; i++) parts[i * columns + c] *= factor;
    }
  }
  return parts;
}

function colourAt(
  map: SpectralMap,
  own: (wavelength: number) => readonly number[],
  x: number,
): { hue: readonly number[]; sight: number } {
  const wavelength = map.wavelengthAt(x);
  return { hue: own(wavelength), sight: tristimulus(wavelength)[1] };
}

function screenTable(): Uint8Array {
  const table = new Uint8Array(STEPS + 1);
  for (let i = 0; i <= STEPS; i++) table[i] = Math.round(255 * screenValue((i + 0.5) / STEPS));
  table[STEPS] = 255;
  return table;
}
