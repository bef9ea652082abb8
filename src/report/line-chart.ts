/** Curves over one axis, panel under panel, as one SVG document. */
import { linearAxis } from "./axes.ts";
import { thinnedPath } from "./decimate.ts";
import { escaped, raised } from "./svg.ts";

export interface ChartCurve {
  readonly name: string;
  readonly values: Float64Array;
}

export interface ChartPanel {
  /** quantity with its unit; powers as "m^-3" are raised */
  readonly name: string;
  /** one to four curves, told apart by their strokes */
  readonly curves: readonly ChartCurve[];
}

const WIDTH = 760;
const LEFT = 96;
const RIGHT = WIDTH - 150;
const PANEL = 150;
const GAP = 46;
const STROKES = ["", "6 3", "2 3", "8 3 2 3"];

/**
 * Linear axes; large and small values carry a power of ten in the panel's name. `x` ascending, of the length of every
 * curve, two or more.
 */
export function lineChart(
  title: string,
  across: { readonly name: string; readonly x: Float64Array },
  panels: readonly ChartPanel[],
): string {
  const { x } = across;
  const axis = linearAxis(x[0], x[x.length - 1], 8);
  const place = x.map((v) => LEFT + axis.place(v) * (RIGHT - LEFT));
  const height = 58 + panels.length * (PANEL + GAP) + 20;
  const drawn = panels.map((panel, p) => panelOf(panel, place, 62 + p * (PANEL + GAP)));
  const bottom = 62 + (panels.length - 1) * (PANEL + GAP) + PANEL;
  const ticks = axis.ticks.map(({ at, text }) => {
    const at1 = (LEFT + at * (RIGHT - LEFT)).toFixed(1);
    return `<path d="M${at1} ${bottom}v5" stroke="currentColor"/><text x="${at1}" y="${bottom + 19}" text-anchor="middle">${text}</text>`;
  });
  const words = panels.map((panel) => panel.name).join("; ");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}" role="img" font-family="serif" font-size="13" fill="currentColor">
<title>${escaped(title)}</title>
<desc>${escaped(`${title} over ${across.name}: ${words}`)}</desc>
<text x="${LEFT}" y="26" font-size="18">${raised(title)}</text>
${drawn.join("\n")}
<g>${ticks.join("")}<text x="${(LEFT + RIGHT) / 2}" y="${bottom + 42}" text-anchor="middle">${raised(across.name)}</text></g>
</svg>
`;
}

function panelOf({ name, curves }: ChartPanel, x: Float64Array, top: number): string {
  let low = Infinity;
  let high = -Infinity;
  for (const { values } of curves)
    for (const v of values) {
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
  const size = Math.max(Math.abs(low), Math.abs(high));
  const power = size === 0 || (size >= 1e-2 && size < 1e5) ? 0 : Math.floor(Math.log10(size));
  const unit = 10 ** power;
  const room = high > low ? 0.06 * (high - low) : Math.abs(high) * 0.05 || 1;
  const axis = linearAxis((low - room) / unit, (high + room) / unit, 4);
  const y = (v: number): number => top + PANEL * (1 - axis.place(v / unit));
  const ticks = axis.ticks.map(
    ({ at, text }) =>
      `<path d="M${LEFT} ${(top + PANEL * (1 - at)).toFixed(1)}h-5" stroke="currentColor"/><text x="${LEFT - 9}" y="${(top + PANEL * (1 - at)).toFixed(1)}" dy="0.32em" text-anchor="end">${raised(text)}</text>`,
  );
  const paths = curves.map(
    ({ values }, i) =>
      `<path fill="none" stroke="currentColor" stroke-width="1.6" stroke-dasharray="${STROKES[i % STROKES.length]}" d="${thinnedPath(x, values.map(y))}"/>`,
  );
  const names = curves.map(({ name: own }, i) =>
    own === ""
      ? ""
      : `<path stroke="currentColor" stroke-width="1.6" stroke-dasharray="${STROKES[i % STROKES.length]}" d="M${RIGHT + 14} ${top + 12 + 20 * i}h28"/><text x="${RIGHT + 48}" y="${top + 12 + 20 * i}" dy="0.32em">${raised(own)}</text>`,
  );
  const said = power === 0 ? name : `${name}, in 10^${power}`;
  return `<g><rect x="${LEFT}" y="${top}" width="${RIGHT - LEFT}" height="${PANEL}" fill="none" stroke="currentColor" opacity=".55"/><text x="${LEFT}" y="${top - 9}">${raised(said)}</text>${ticks.join("")}${paths.join("")}${names.join("")}</g>`;
}
