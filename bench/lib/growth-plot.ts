/** Cost against size on two logarithmic axes, as an SVG for docs/images; a dotted line of slope 1 shows what linear means. */

export interface GrowthSeries {
  readonly name: string;
  /** [size, cost] pairs, all positive */
  readonly points: readonly (readonly [size: number, cost: number])[];
}

const WIDTH = 640;
const HEIGHT = 400;
const LEFT = 70;
const RIGHT = 150;
const TOP = 30;
const BOTTOM = 50;

/** @returns one self-contained SVG document; ink is black on white */
export function growthPlot(
  title: string,
  sizeLabel: string,
  costLabel: string,
  series: readonly GrowthSeries[],
): string {
  const all = series.flatMap((s) => s.points);
  const x = axis(
    all.map(([size]) => size),
    LEFT,
    WIDTH - RIGHT,
  );
  const y = axis(
    all.map(([, cost]) => cost),
    HEIGHT - BOTTOM,
    TOP,
  );
  const place = ([size, cost]: readonly [number, number]): string =>
    `${x.at(size).toFixed(1)},${y.at(cost).toFixed(1)}`;
  const lines = series.map((s, i) => {
    const last = s.points[s.points.length - 1];
    const marks = s.points.map(
      (p) => `<circle cx="${x.at(p[0]).toFixed(1)}" cy="${y.at(p[1]).toFixed(1)}" r="3"/>`,
    );
    return `<polyline fill="none" stroke="black" stroke-width="${1 + 0.5 * i}" points="${s.points.map(place).join(" ")}"/>${marks.join("")}<text x="${(x.at(last[0]) + 8).toFixed(1)}" y="${(y.at(last[1]) + 4).toFixed(1)}">${s.name}</text>`;
  });
  const [first] = series;
  const start = first.points[0];
  const end = first.points[first.points.length - 1][0];
  const slope = `<line x1="${x.at(start[0])}" y1="${y.at(start[1])}" x2="${x.at(end)}" y2="${y.at((start[1] * end) / start[0])}" stroke="black" stroke-dasharray="2 4"/>`;
  const ticks = [
    ...x.ticks.map(
      (t) =>
        `<text x="${x.at(t).toFixed(1)}" y="${HEIGHT - BOTTOM + 18}" text-anchor="middle">${t.toExponential(0)}</text>`,
    ),
    ...y.ticks.map(
      (t) =>
        `<text x="${LEFT - 8}" y="${(y.at(t) + 4).toFixed(1)}" text-anchor="end">${t.toExponential(0)}</text>`,
    ),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" font-family="sans-serif" font-size="12" role="img"><title>${title}</title><desc>${costLabel} against ${sizeLabel}, both logarithmic; the dotted line grows in proportion.</desc><rect width="100%" height="100%" fill="white"/><text x="${LEFT}" y="18" font-size="14">${title}</text><rect x="${LEFT}" y="${TOP}" width="${WIDTH - LEFT - RIGHT}" height="${HEIGHT - TOP - BOTTOM}" fill="none" stroke="black"/>${ticks.join("")}${slope}${lines.join("")}<text x="${(LEFT + WIDTH - RIGHT) / 2}" y="${HEIGHT - 10}" text-anchor="middle">${sizeLabel}</text><text transform="translate(16 ${(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" text-anchor="middle">${costLabel}</text></svg>\n`;
}

/** A logarithmic axis with a tenth of a decade of air at both ends and ticks at powers of ten. */
function axis(
  values: readonly number[],
  from: number,
  to: number,
): { at(value: number): number; ticks: number[] } {
  const low = Math.log10(Math.min(...values)) - 0.1;
  const high = Math.log10(Math.max(...values)) + 0.1;
  const ticks: number[] = [];
  for (let power = Math.ceil(low); power <= Math.floor(high); power++) ticks.push(10 ** power);
  return { at: (value) => from + ((Math.log10(value) - low) / (high - low)) * (to - from), ticks };
}
