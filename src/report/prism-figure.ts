/** The drawing of a direct-vision prism: outlines of its glasses with traced rays, to scale. */
import type { PrismReport } from "../path/index.ts";
import { inkOf } from "./ink.ts";
import { escaped } from "./svg.ts";

/** Room around the drawing, mm. */
const MARGIN = 12;

/** Where a piece is named: inside its wider edge, away from the light. Lengths in m. */
function wideSide(outline: readonly (readonly [number, number])[]): { z: number; x: number } {
  const [[z0, low], [z1, high], [z2], [z3]] = outline;
  const [first, second] = [Math.abs(z3 - z0), Math.abs(z2 - z1)];
  const upper = first > second === low > high;
  const middle = first > second ? (z0 + z3) / 2 : (z1 + z2) / 2;
  return { z: middle, x: upper ? Math.max(low, high) - 4e-3 : Math.min(low, high) + 5.2e-3 };
}

/**
 * An SVG document whose millimetres are the prism's own, 1:1 when printed unscaled.
 * @param wavelengths vacuum wavelengths of the report's rays, m
 * @param title what is drawn
 */
export function prismFigure(report: PrismReport, wavelengths: readonly number[], title: string): string {
  const mm = (metres: number): string => (metres * 1e3).toFixed(3);
  const points = [
    ...report.pieces.flatMap((piece) => piece.outline),
    ...report.rays.flat(),
    ...report.edges.flat(),
  ];
  const left = Math.min(...points.map(([z]) => z * 1e3)) - MARGIN;
  const right = Math.max(...points.map(([z]) => z * 1e3)) + MARGIN;
  const top = Math.min(...points.map(([, x]) => -x * 1e3)) - 2 * MARGIN;
  const bottom = Math.max(...points.map(([, x]) => -x * 1e3)) + MARGIN;
  const width = (right - left).toFixed(2);
  const height = (bottom - top).toFixed(2);
  const path = (corners: readonly (readonly [number, number])[]): string =>
    corners.map(([z, x], i) => `${i === 0 ? "M" : "L"}${mm(z)} ${mm(-x)}`).join("");
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="${left.toFixed(2)} ${top.toFixed(2)} ${width} ${height}" role="img" aria-label="${escaped(title)}" font-family="sans-serif" font-size="3" fill="currentColor">`,
    `<text x="${(left + 3).toFixed(2)}" y="${(top + 6).toFixed(2)}">${escaped(title)}</text>`,
    `<text x="${(left + 3).toFixed(2)}" y="${(top + 11).toFixed(2)}">scale 1:1, lengths in mm, ${(report.length * 1e3).toFixed(1)} mm long, ${(report.height * 1e3).toFixed(1)} mm high; angles as traced, not exaggerated; broken lines: edges of the beam</text>`,
    ...report.pieces.map((piece) => {
      const { z, x } = wideSide(piece.outline);
      return [
        `<path d="${path(piece.outline)}Z" fill="currentColor" fill-opacity="0.08" stroke="currentColor" stroke-width="0.25"/>`,
        `<text x="${mm(z)}" y="${mm(-x)}" text-anchor="middle">${escaped(piece.glass)}<tspan x="${mm(z)}" dy="3.6">${((piece.apex * 180) / Math.PI).toFixed(2)}°</tspan></text>`,
      ].join("");
    }),
    ...report.rays.map(
      (ray, i) =>
        `<path d="${path(ray)}" fill="none" stroke="${inkOf(wavelengths[i])}" stroke-width="0.3"><title>${(wavelengths[i] * 1e9).toFixed(1)} nm vacuum</title></path>`,
    ),
    ...report.edges.map(
      (ray, i) =>
        `<path d="${path(ray)}" fill="none" stroke="${inkOf(wavelengths[i >> 1])}" stroke-width="0.12" stroke-dasharray="1.2 0.8"/>`,
    ),
    "</svg>",
  ].join("\n");
}
