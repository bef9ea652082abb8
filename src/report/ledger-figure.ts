/** The ledger of the dark as a figure: its strip with the wavelengths under it and a key of its tints. */
import { linearAxis } from "./axes.ts";
import { escaped } from "./svg.ts";

export interface LedgerKey {
  readonly words: string;
  /** over the sensor's width, 1 */
  readonly share: number;
  /** sRGB, 0 to 255 */
  readonly tint: readonly [number, number, number];
}

const LEFT = 60;
const WIDTH = 760;
const STRIP = 180;
const TOP = 40;
const ROW = 20;

/**
 * @param png the strip as a PNG file, base64; recorded light at the bottom
 * @param columnOf share of the strip's width, 0…1, at which a vacuum wavelength in nm stands
 * @param reach shortest and longest wavelength in view, nm vacuum
 */
export function ledgerFigure(
  png: string,
  columnOf: (nm: number) => number,
  reach: readonly [number, number],
  keys: readonly LedgerKey[],
): string {
  const bottom = TOP + STRIP;
  const ticks = linearAxis(reach[0], reach[1], 6).ticks.map(({ at, text }) => {
    const x = (LEFT + WIDTH * columnOf(reach[0] + at * (reach[1] - reach[0]))).toFixed(1);
    return `<path d="M${x} ${bottom}v5" stroke="currentColor"/><text x="${x}" y="${bottom + 19}" text-anchor="middle">${text}</text>`;
  });
  const rows = keys.map(({ words, share, tint }, i) => {
    const y = bottom + 62 + i * ROW;
    return `<rect x="${LEFT}" y="${y - 12}" width="14" height="14" fill="rgb(${tint.join(",")})" stroke="currentColor" stroke-width="0.5"/><text x="${LEFT + 24}" y="${y}">${escaped(words)}</text><text x="${LEFT + 400}" y="${y}" text-anchor="end">${(100 * share).toFixed(2)} %</text>`;
  });
  const height = bottom + 62 + keys.length * ROW;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH + 2 * LEFT} ${height}" width="${WIDTH + 2 * LEFT}" height="${height}" role="img" aria-label="Where the light went" font-family="serif" font-size="13" fill="currentColor">
<text x="${LEFT}" y="24" font-size="18">Where the light went</text>
<image x="${LEFT}" y="${TOP}" width="${WIDTH}" height="${STRIP}" preserveAspectRatio="none" href="data:image/png;base64,${png}"/>
<text x="${LEFT - 8}" y="${TOP + 10}" text-anchor="end">100 %</text><text x="${LEFT - 8}" y="${bottom}" text-anchor="end">0</text>
${ticks.join("")}
<text x="${LEFT + WIDTH / 2}" y="${bottom + 38}" text-anchor="middle">wavelength in vacuum, nm</text>
${rows.join("\n")}
</svg>
`;
}
