/** The figure of a medium's index: n − 1 and absorption above, phase velocity and group index below, one wavelength axis. */
import type { OpticalResponse } from "../medium/index.ts";
import { Refusal } from "../quantity/index.ts";
import { type FigureAxis, linearAxis, logAxis, symlogAxis } from "./axes.ts";
import { thinnedPath } from "./decimate.ts";
import { escaped, raised } from "./svg.ts";

export interface FigureMark {
  /** m, counted as the figure counts wavelengths */
  readonly wavelength: number;
  readonly text: string;
}

export interface IndexFigureOptions {
  /** what is shown, e.g. "K vapour" */
  readonly title: string;
  /** its state, e.g. "450 K, 5e20 m^-3"; powers are raised */
  readonly state?: string;
  /** wavelengths as the axis counts them, m, same length as the table; default the table's own, in vacuum */
  readonly shown?: Float64Array;
  /** what `shown` counts in; default "vacuum" */
  readonly countedIn?: "air" | "vacuum";
  /** places worth a hairline: lines, zeros between them */
  readonly marks?: readonly FigureMark[];
}

const WIDTH = 880;
const HEIGHT = 640;
const LEFT = 84;
const RIGHT = WIDTH - 84;
const UPPER: Panel = { top: 104, bottom: 332 };
const LOWER: Panel = { top: 372, bottom: 560 };
const FRONT = "The front of a signal travels at c, whatever the phase velocity.";

interface Panel {
  readonly top: number;
  readonly bottom: number;
}

/**
 * An SVG document, 880 by 640, in the ink of its surroundings (`currentColor`) and in generic fonts. n − 1, v/c − 1 and the
 * group index less 1 stand on axes that are linear about zero and logarithmic beyond (linear where the values share sign
 * and order of magnitude), absorption on a logarithmic one. Curves are thinned to two points per pixel column.
 *
 * @throws Refusal fewer than two different wavelengths
 */
export function indexFigure(table: OpticalResponse, options: IndexFigureOptions): string {
  const counted = options.shown ?? table.wavelength;
  const order = Array.from(counted.keys()).sort((i, j) => counted[i] - counted[j]);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(order, (i) => values[i]);
  const nm = pick(counted).map((each) => each * 1e9);
  if (!(nm.length > 1 && nm[0] < nm[nm.length - 1]))
    throw new Refusal({
      code: "figure-needs-a-range",
      field: "wavelength",
      received: "a single wavelength",
      expected: "two or more different wavelengths for a figure",
    });
  const horizontal = linearAxis(nm[0], nm[nm.length - 1], 8);
  const x = nm.map((each) => LEFT + horizontal.place(each) * (RIGHT - LEFT));
  const refractivity = pick(table.refractivity);
  const absorption = pick(table.absorption);
  const velocity = refractivity.map((each) => -each / (1 + each));
  const delay = pick(table.groupIndex).map((each) => each - 1);
  const [index, phase, group] = [refractivity, velocity, delay].map(symlogAxis);
  const alpha = logAxis(absorption);
  const countedIn = options.countedIn ?? "vacuum";
  const marks = (options.marks ?? []).map(({ wavelength, text }) => ({
    x: LEFT + horizontal.place(wavelength * 1e9) * (RIGHT - LEFT),
    text,
  }));
  const curve = (values: Float64Array, axis: FigureAxis, panel: Panel): string =>
    thinnedPath(
      x,
      values.map((each) => panel.bottom - axis.place(each) * (panel.bottom - panel.top)),
    );
  const parts = [
    `<text x="${LEFT}" y="28" class="title">${raised(options.title)}</text>`,
    `<text x="${LEFT}" y="48">${raised(options.state ?? "")}</text>`,
    markLines(marks),
    frame(UPPER),
    leftAxis(index, UPPER, "n \u2212 1"),
    alpha === undefined ? "" : shade(absorption, alpha, x),
    alpha === undefined
      ? note(UPPER, "no absorption in the model of this medium")
      : rightAxis(alpha, UPPER, "absorption, m^-1", "area"),
    `<path class="main" d="${curve(refractivity, index, UPPER)}"/>`,
    frame(LOWER),
    leftAxis(phase, LOWER, "phase velocity, v/c \u2212 1"),
    rightAxis(group, LOWER, "group index \u2212 1", "dashed"),
    `<path class="dashed" d="${curve(delay, group, LOWER)}"/>`,
    `<path class="main" d="${curve(velocity, phase, LOWER)}"/>`,
    bottomAxis(horizontal, `wavelength in ${countedIn}, nm`),
    `<text x="${LEFT}" y="${HEIGHT - 14}" class="said">${FRONT}</text>`,
  ];
  const words = `${options.title}${options.state === undefined ? "" : `, ${options.state}`}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-labelledby="index-figure-title index-figure-words" font-family="serif" font-size="13" fill="currentColor" stroke="none">
<title id="index-figure-title">${escaped(`Index of ${options.title}`)}</title>
<desc id="index-figure-words">${escaped(description(words, countedIn, nm, refractivity, absorption, delay))}</desc>
<style>${STYLE}</style>
<clipPath id="index-figure-upper"><rect x="${LEFT}" y="${UPPER.top}" width="${RIGHT - LEFT}" height="${UPPER.bottom - UPPER.top}"/></clipPath>
${parts.filter((part) => part !== "").join("\n")}
</svg>
`;
}

const STYLE = [
  ".title{font-size:20px}.said{font-style:italic}.number{font-family:monospace;font-size:12px}",
  ".frame,.tick,.mark,.zero{fill:none;stroke:currentColor;stroke-width:.75}",
  ".frame{opacity:.55}.mark{opacity:.3;stroke-dasharray:2 3}.zero{opacity:.4}",
  ".main,.dashed,.edge{fill:none;stroke:currentColor;stroke-linejoin:round}",
  ".main{stroke-width:1.7}.dashed{stroke-width:1.2;stroke-dasharray:5 3;opacity:.75}.edge{stroke-width:.8;opacity:.5}",
  ".area{fill:currentColor;fill-opacity:.13}",
].join("");

const frame = ({ top, bottom }: Panel): string =>
  `<rect class="frame" x="${LEFT}" y="${top}" width="${RIGHT - LEFT}" height="${bottom - top}"/>`;

const note = ({ top }: Panel, text: string): string =>
  `<text x="${RIGHT}" y="${top - 10}" text-anchor="end">${text}</text>`;

function leftAxis(axis: FigureAxis, panel: Panel, name: string): string {
  const key = `<path class="main" d="M${LEFT} ${panel.top - 14}h22"/>`;
  const zero = axis.place(0);
  const y = (at: number): number => panel.bottom - at * (panel.bottom - panel.top);
  const rule = zero > 0 && zero < 1 ? `<path class="zero" d="M${LEFT} ${y(zero).toFixed(1)}H${RIGHT}"/>` : "";
  const ticks = axis.ticks.map(
    ({ at, text }) =>
      `<path class="tick" d="M${LEFT} ${y(at).toFixed(1)}h-5"/><text class="number" x="${LEFT - 9}" y="${y(at).toFixed(1)}" dy="0.32em" text-anchor="end">${raised(text)}</text>`,
  );
  return `<g>${key}<text x="${LEFT + 29}" y="${panel.top - 10}">${raised(name)}</text>${rule}${ticks.join("")}</g>`;
}

function rightAxis(axis: FigureAxis, panel: Panel, name: string, ink: "area" | "dashed"): string {
  const at = panel.top - 14;
  const key =
    ink === "area"
      ? `<path class="area" d="M${RIGHT - 22} ${at - 4}h22v9h-22z"/>`
      : `<path class="dashed" d="M${RIGHT - 22} ${at}h22"/>`;
  const y = (place: number): string => (panel.bottom - place * (panel.bottom - panel.top)).toFixed(1);
  const ticks = axis.ticks.map(
    (tick) =>
      `<path class="tick" d="M${RIGHT} ${y(tick.at)}h5"/><text class="number" x="${RIGHT + 9}" y="${y(tick.at)}" dy="0.32em">${raised(tick.text)}</text>`,
  );
  return `<g>${key}<text x="${RIGHT - 29}" y="${panel.top - 10}" text-anchor="end">${raised(name)}</text>${ticks.join("")}</g>`;
}

function bottomAxis(axis: FigureAxis, name: string): string {
  const ticks = axis.ticks.map(({ at, text }) => {
    const x = (LEFT + at * (RIGHT - LEFT)).toFixed(1);
    return `<path class="tick" d="M${x} ${LOWER.bottom}v5"/><text class="number" x="${x}" y="${LOWER.bottom + 19}" text-anchor="middle">${text}</text>`;
  });
  return `<g>${ticks.join("")}<text x="${(LEFT + RIGHT) / 2}" y="${LOWER.bottom + 42}" text-anchor="middle">${name}</text></g>`;
}

/** Absorption as a shaded ground behind n − 1; where there is none it lies on the floor. */
function shade(absorption: Float64Array, axis: FigureAxis, x: Float64Array): string {
  const { top, bottom } = UPPER;
  const y = absorption.map((each) =>
    each > 0 ? Math.min(bottom, bottom - axis.place(each) * (bottom - top)) : bottom,
  );
  const edge = thinnedPath(x, y);
  const last = x[x.length - 1].toFixed(2);
  return `<g clip-path="url(#index-figure-upper)"><path class="area" d="${edge}L${last} ${bottom}L${x[0].toFixed(2)} ${bottom}Z"/><path class="edge" d="${edge}"/></g>`;
}

/** Hairlines through both panels; a name that would run into its neighbour goes one row up, a third is left out. */
function markLines(marks: readonly { readonly x: number; readonly text: string }[]): string {
  const ends = [-Infinity, -Infinity];
  const rows = [UPPER.top - 28, UPPER.top - 41];
  return [...marks]
    .filter((mark) => mark.x >= LEFT && mark.x <= RIGHT)
    .sort((a, b) => a.x - b.x)
    .map(({ x, text }) => {
      const half = 3.6 * text.length;
      const middle = Math.max(LEFT + half, Math.min(RIGHT - half, x));
      const row = ends.findIndex((end) => middle - half > end + 8);
      const line = `<path class="mark" d="M${x.toFixed(1)} ${UPPER.top}V${LOWER.bottom}"/>`;
      if (row < 0) return line;
      ends[row] = middle + half;
      return `${line}<text class="number" x="${middle.toFixed(1)}" y="${rows[row]}" text-anchor="middle">${escaped(text)}</text>`;
    })
    .join("");
}

function description(
  words: string,
  countedIn: string,
  nm: Float64Array,
  refractivity: Float64Array,
  absorption: Float64Array,
  delay: Float64Array,
): string {
  const span = (values: Float64Array): string =>
    `${Math.min(...extremes(values)).toPrecision(3)} to ${Math.max(...extremes(values)).toPrecision(3)}`;
  return `${words}. Wavelengths in ${countedIn} from ${nm[0].toFixed(3)} to ${nm[nm.length - 1].toFixed(3)} nm. Index less 1: ${span(refractivity)}. Absorption: ${span(absorption)} per metre. Group index less 1: ${span(delay)}. ${FRONT}`;
}

function extremes(values: Float64Array): readonly [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const each of values) {
    low = Math.min(low, each);
    high = Math.max(high, each);
  }
  return [low, high];
}
