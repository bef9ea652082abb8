/** A table as a heat map with contours and a scale, as one SVG document in the shared ramp. */
import { Refusal } from "../quantity/index.ts";
import { type FigureAxis, linearAxis } from "./axes.ts";
import { contourPath, type Table } from "./contours.ts";
import { rampFor } from "./ramp.ts";
import { escaped, raised } from "./svg.ts";

export interface HeatMapOptions {
  readonly title: string;
  /** what the colours mean, with its unit; powers as "m^-3" are raised */
  readonly quantity: string;
  /** names of the axes with their units, and the values at left and right, lower and upper edge */
  readonly across: { readonly name: string; readonly from: number; readonly to: number };
  readonly up: { readonly name: string; readonly from: number; readonly to: number };
  /** pixels of the map, default 560 × 300 */
  readonly width?: number;
  readonly height?: number;
  /** a circle inscribed in the map, beyond which nothing is drawn */
  readonly round?: boolean;
  /** decades instead of equal steps, for what spans many */
  readonly logarithmic?: boolean;
}

const LEFT = 74;
const TOP = 60;
const BAR = 18;
/** Room right of the map for the bar, its numbers and its name. */
const MARGIN = 150;
/** Steps of the ramp that are told apart; fewer make smaller files. */
const STEPS = 48;

/**
 * Colours run evenly in lightness from the least value to the largest (of the decades, where `logarithmic`); contours
 * stand at the scale's own round values, drawn in ink. Sizes in millimetres or whatever the options say.
 *
 * @throws Refusal a table without two rows and columns
 */
export function heatMap(table: Table, options: HeatMapOptions): string {
  const { columns, rows, values } = table;
  if (columns < 2 || rows < 2) {
    throw new Refusal({
      code: "figure-needs-a-table",
      field: "table",
      received: `${rows} × ${columns} values`,
      expected: "two rows and columns or more",
    });
  }
  const width = options.width ?? 560;
  const height = options.height ?? 300;
  const scale = scaleOf(values, options.logarithmic === true);
  const shown =
    options.logarithmic === true ? values.map((v) => Math.log10(Math.max(v, Number.MIN_VALUE))) : values;
  const shownTable = { columns, rows, values: shown };
  const contours = scale.contours
    .map((level) => contourPath(shownTable, level))
    .filter((path) => path !== "")
    .map((path) => `<path d="${path}"/>`);
  const box = `transform="translate(${LEFT} ${TOP}) scale(${width / columns} ${height / rows})"`;
  const clip = options.round === true ? ` clip-path="url(#round)"` : "";
  const total = { width: LEFT + width + MARGIN, height: TOP + height + 62 };
  const parts = [
    `<text x="${LEFT}" y="30" font-size="18">${raised(options.title)}</text>`,
    `<g ${box}${clip} shape-rendering="crispEdges">${boxes(table, scale.axis)}</g>`,
    `<g ${box}${clip} fill="none" stroke="currentColor" stroke-width=".9" vector-effect="non-scaling-stroke">${contours.join("").replaceAll("<path ", `<path vector-effect="non-scaling-stroke" `)}</g>`,
    axisBelow(options.across, width, height),
    axisLeft(options.up, height),
    bar(
      scale.axis,
      scale.power === 0 ? options.quantity : `${options.quantity}, in 10^${scale.power}`,
      width,
      height,
    ),
  ];
  const words = `${options.title}: ${options.quantity} from ${scale.least.toPrecision(3)} to ${scale.most.toPrecision(3)}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${total.width} ${total.height}" width="${total.width}" height="${total.height}" role="img" font-family="serif" font-size="13" fill="currentColor">
<title>${escaped(options.title)}</title>
<desc>${escaped(words)}</desc>
<clipPath id="round"><ellipse cx="${columns / 2}" cy="${rows / 2}" rx="${columns / 2}" ry="${rows / 2}"/></clipPath>
${parts.join("\n")}
</svg>
`;
}

interface Scale {
  readonly axis: FigureAxis;
  /** of ten, in which the scale's numbers stand */
  readonly power: number;
  readonly least: number;
  readonly most: number;
  /** levels in what is contoured: the value, or its decade */
  readonly contours: readonly number[];
}

function scaleOf(values: Float64Array, logarithmic: boolean): Scale {
  let least = Infinity;
  let most = -Infinity;
  for (const v of values) {
    least = Math.min(least, v);
    most = Math.max(most, v);
  }
  if (logarithmic && most > 0) {
    const axis = decades(Math.max(least, most * 1e-12), most);
    return {
      axis,
      power: 0,
      least,
      most,
      contours: axis.ticks.map(({ text }) => Math.log10(Number(text.replace("10^", "1e")))),
    };
  }
  const size = Math.max(Math.abs(least), Math.abs(most));
  const power = size >= 1e5 || (size > 0 && size < 1e-2) ? Math.floor(Math.log10(size)) : 0;
  const unit = 10 ** power;
  const room = most > least ? 0 : Math.abs(most) * 0.01 || 1;
  const own = linearAxis((least - room) / unit, (most + room) / unit, 7);
  const axis = { ...own, place: (value: number): number => own.place(value / unit) };
  const contours = axis.ticks.map(({ at }) => least - room + at * (most - least + 2 * room));
  return { axis, power, least, most, contours };
}

/** A logarithmic axis with ticks at 1, 2 and 5 where it spans less than three decades, at powers of ten else. */
function decades(low: number, high: number): FigureAxis {
  const from = Math.log10(low);
  const span = Math.log10(high) - from || 1;
  const place = (value: number): number => (Math.log10(Math.max(value, low)) - from) / span;
  const ticks = [];
  const stride = Math.ceil(span / 12);
  for (let k = Math.floor(from); k <= Math.ceil(from + span); k += stride) {
    for (const digit of span < 3 ? [1, 2, 5] : [1]) {
      const value = digit * 10 ** k;
      if (value < low || value > high) continue;
      const plain = k >= -2 && k <= 3;
      ticks.push({ at: place(value), text: plain ? String(Number(value.toPrecision(1))) : `10^${k}` });
    }
  }
  return { kind: "log", place, ticks };
}

/** One path per step of the ramp, its boxes joined along each row. */
function boxes({ columns, rows, values }: Table, axis: FigureAxis): string {
  const paths = Array.from({ length: STEPS }, () => "");
  const stepAt = (i: number): number =>
    Math.min(STEPS - 1, Math.max(0, Math.floor(axis.place(values[i]) * STEPS)));
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; ) {
      const step = stepAt(r * columns + c);
      let end = c + 1;
      while (end < columns && stepAt(r * columns + end) === step) end++;
      paths[step] += `M${c} ${r}h${end - c}v1h${c - end}z`;
      c = end;
    }
  }
  return paths.map((d, step) => (d === "" ? "" : `<path fill="${colourOf(step)}" d="${d}"/>`)).join("");
}

const RAMP = rampFor("paper");

function colourOf(step: number): string {
  const abgr = RAMP[Math.round((255 * (step + 0.5)) / STEPS)];
  const hex = (byte: number): string => (byte & 255).toString(16).padStart(2, "0");
  return `#${hex(abgr)}${hex(abgr >>> 8)}${hex(abgr >>> 16)}`;
}

function axisBelow(axis: HeatMapOptions["across"], width: number, height: number): string {
  const { ticks } = linearAxis(axis.from, axis.to, 7);
  const y = TOP + height;
  const marks = ticks.map(({ at, text }) => {
    const x = (LEFT + at * width).toFixed(1);
    return `<path d="M${x} ${y}v5" stroke="currentColor"/><text x="${x}" y="${y + 19}" text-anchor="middle">${raised(text)}</text>`;
  });
  return `<g>${marks.join("")}<text x="${LEFT + width / 2}" y="${y + 44}" text-anchor="middle">${raised(axis.name)}</text></g>`;
}

function axisLeft(axis: HeatMapOptions["up"], height: number): string {
  const { ticks } = linearAxis(axis.from, axis.to, 6);
  const marks = ticks.map(({ at, text }) => {
    const y = (TOP + height * (1 - at)).toFixed(1);
    return `<path d="M${LEFT} ${y}h-5" stroke="currentColor"/><text x="${LEFT - 9}" y="${y}" dy="0.32em" text-anchor="end">${raised(text)}</text>`;
  });
  return `<g>${marks.join("")}<text transform="translate(20 ${TOP + height / 2}) rotate(-90)" text-anchor="middle">${raised(axis.name)}</text></g>`;
}

function bar(axis: FigureAxis, name: string, width: number, height: number): string {
  const x = LEFT + width + 24;
  const step = height / STEPS;
  const boxesOfBar = Array.from(
    { length: STEPS },
    (_, k) =>
      `<rect x="${x}" y="${(TOP + height - (k + 1) * step).toFixed(2)}" width="${BAR}" height="${(step + 0.3).toFixed(2)}" fill="${colourOf(k)}"/>`,
  );
  const marks = axis.ticks
    .filter(({ at }) => at >= 0 && at <= 1)
    .map(({ at, text }) => {
      const y = (TOP + height * (1 - at)).toFixed(1);
      return `<path d="M${x + BAR} ${y}h5" stroke="currentColor"/><text x="${x + BAR + 9}" y="${y}" dy="0.32em">${raised(text)}</text>`;
    });
  // Ends at the figure's edge: a long name reaches over the map instead of being cut off.
  return `<g>${boxesOfBar.join("")}${marks.join("")}<text x="${LEFT + width + MARGIN - 6}" y="${TOP - 10}" text-anchor="end">${raised(name)}</text></g>`;
}
