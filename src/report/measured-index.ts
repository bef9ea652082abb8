/** The index that a reading measured: its traced points over the oscillator curve of published strengths. */
import { CLASSICAL_ELECTRON_RADIUS, linesOf } from "../reference/index.ts";
import type { Reading } from "../reading/index.ts";
import { metalOf, type Setup } from "../setup/index.ts";
import { type FigureAxis, linearAxis } from "./axes.ts";
import { thinnedPath } from "./decimate.ts";
import type { Telling } from "./page.ts";
import { escaped, raised } from "./svg.ts";

const WIDTH = 720;
const HEIGHT = 300;
const LEFT = 84;
const RIGHT = WIDTH - 16;
const TOP = 40;
const BOTTOM = HEIGHT - 52;
/** Points drawn at most, and points of the curve. */
const MOST_POINTS = 300;
const CURVE = 2000;

/**
 * An SVG document; undefined where the reading has no points, or no gradient by which they could be divided.
 * @param kept the reading as the notebook keeps it
 */
export function measuredIndexFigure(
  kept: Pick<Reading, "derived" | "columnGradient">,
  setup: Setup,
  { language, numbers }: Telling,
): string | undefined {
  const { phase, density } = kept.derived;
  const { value, combinedUncertainty } = kept.columnGradient;
  if (phase.length < 2 || Math.abs(value) < 3 * combinedUncertainty) return undefined;
  const words = language.report.indexFigure;
  const nm = phase.map(({ wavelength }) => wavelength * 1e9);
  const [first, last] = [Math.min(...nm), Math.max(...nm)];
  const across = linearAxis(first, last, 8);
  const most = Math.max(...phase.map(({ refractivity }) => Math.abs(refractivity)));
  const power = Math.floor(Math.log10(most));
  const up = linearAxis((-1.2 * most) / 10 ** power, (1.2 * most) / 10 ** power, 6);
  const x = (each: number): number => LEFT + across.place(each) * (RIGHT - LEFT);
  const y = (value: number): number => BOTTOM - up.place(value / 10 ** power) * (BOTTOM - TOP);
  const wavelengths = Float64Array.from(
    { length: CURVE },
    (_, i) => first + (i / (CURVE - 1)) * (last - first),
  );
  const curve = wavelengths.map((each) => {
    const at = y(refractivity(each * 1e-9, density.value, setup));
    return at < TOP || at > BOTTOM ? Number.NaN : at;
  });
  const every = Math.ceil(phase.length / MOST_POINTS);
  const points = phase
    .filter((_, i) => i % every === 0)
    .map((point) => {
      const [at, low, high] = [0, -1, 1].map((way) =>
        y(point.refractivity + way * point.standardUncertainty),
      );
      const px = x(point.wavelength * 1e9).toFixed(1);
      return `<path d="M${px} ${low.toFixed(1)}V${high.toFixed(1)}" stroke="currentColor" stroke-width="0.6"/><circle cx="${px}" cy="${at.toFixed(1)}" r="1.7"/>`;
    });
  const said = words.words(phase.length, numbers.fixed(first, 2), numbers.fixed(last, 2));
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-label="${escaped(`${words.title}. ${said}`)}" font-family="serif" font-size="13" fill="currentColor">
<rect x="${LEFT}" y="${TOP}" width="${RIGHT - LEFT}" height="${BOTTOM - TOP}" fill="none" stroke="currentColor" stroke-width="0.6"/>
<path d="M${LEFT} ${y(0).toFixed(1)}H${RIGHT}" stroke="currentColor" stroke-width="0.5" opacity="0.5"/>
${axes(across, up, numbers.decimalSign)}
<path d="${thinnedPath(wavelengths.map(x), curve)}" fill="none" stroke="#b8561b" stroke-width="1.6"/>
<g fill="#2456a6" color="#2456a6">${points.join("")}</g>
<path d="M${LEFT} 20h24" stroke="#b8561b" stroke-width="1.6"/><text x="${LEFT + 32}" y="24">${escaped(words.fitted)}</text>
<circle cx="${LEFT + 292}" cy="20" r="2.4" fill="#2456a6"/><text x="${LEFT + 302}" y="24">${escaped(words.points)}</text>
<text x="${(LEFT + RIGHT) / 2}" y="${HEIGHT - 8}" text-anchor="middle">${escaped(words.across)}</text>
<text transform="translate(18 ${(TOP + BOTTOM) / 2}) rotate(-90)" text-anchor="middle">${raised(`${words.up}, 10^${power}`)}</text>
</svg>`;
}

/** n − 1 = r_e N/2π · Σ fᵢ λᵢ²λ²/(λ² − λᵢ²), undamped, over all lines listed. @param wavelength vacuum, m */
function refractivity(wavelength: number, density: number, setup: Setup): number {
  const { element, overrides } = metalOf(setup, "this figure");
  const square = wavelength ** 2;
  const sum = linesOf(element).reduce((all, line) => {
    const strength = overrides.oscillatorStrength?.[line.id] ?? line.oscillatorStrength;
    return all + (strength * line.wavelength ** 2 * square) / (square - line.wavelength ** 2);
  }, 0);
  return ((CLASSICAL_ELECTRON_RADIUS * density) / (2 * Math.PI)) * sum;
}

function axes(across: FigureAxis, up: FigureAxis, sign: string): string {
  const below = across.ticks.map(({ at, text }) => {
    const x = (LEFT + at * (RIGHT - LEFT)).toFixed(1);
    return `<path d="M${x} ${BOTTOM}v4" stroke="currentColor"/><text x="${x}" y="${BOTTOM + 18}" text-anchor="middle">${text.replace(".", sign)}</text>`;
  });
  const left = up.ticks.map(({ at, text }) => {
    const y = (BOTTOM - at * (BOTTOM - TOP)).toFixed(1);
    return `<path d="M${LEFT} ${y}h-4" stroke="currentColor"/><text x="${LEFT - 8}" y="${y}" dy="0.32em" text-anchor="end">${text.replace(".", sign)}</text>`;
  });
  return `<g>${below.join("")}${left.join("")}</g>`;
}
