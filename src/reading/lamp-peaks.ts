/** Bright places of a lamp's spectrum: where lines may stand. */
/** One bright line (or unresolved group) of the lamp. */
export interface LampPeak {
  /** place along the spectrum, pixels from the frame's middle */
  readonly along: number;
  readonly sigma: number;
  /** height above background, share of full scale */
  readonly height: number;
  readonly atEdge: boolean;
}

export interface LampSpectrum {
  readonly along: Float64Array;
  readonly light: Float64Array;
  readonly sigma: Float64Array;
}

/** Spectrum averaged into one value per pixel. */
function pixelBins(spectrum: LampSpectrum, columns: number): { light: Float64Array; noise: number } {
  const sum = new Float64Array(columns);
  const count = new Float64Array(columns);
  for (let i = 0; i < spectrum.along.length; i++) {
    const c = Math.floor(spectrum.along[i] + columns / 2);
    if (c < 0 || c >= columns) continue;
    sum[c] += spectrum.light[i];
    count[c]++;
  }
  const light = sum.map((s, c) => (count[c] > 0 ? s / count[c] : 0));
  const sorted = Float64Array.from(light).sort();
  const median = sorted[sorted.length >> 1];
  const noise = (median - sorted[Math.floor(0.16 * sorted.length)]) * 1.0 + 1e-9;
  for (let c = 0; c < columns; c++) light[c] -= median;
  return { light, noise };
}

export function findPeaks(spectrum: LampSpectrum, columns: number): LampPeak[] {
  const { light, noise } = pixelBins(spectrum, columns);
  const brightest = light.reduce((a, b) => Math.max(a, b), 0);
  const threshold = Math.max(8 * noise, 0.004 * brightest);
  const peaks: LampPeak[] = [];
  // The flat top of a wide slit's image must not count as several lines.
  const reach = Math.max(3, halfWidthOfBrightest(light, brightest));
  for (let c = 0; c < columns; c++) {
    const value = light[c];
    if (value < threshold) continue;
    const from = Math.max(0, c - reach);
    const to = Math.min(columns - 1, c + reach);
    let top = true;
    for (let k = from; k <= to && top; k++)
      if (light[k] > value || (light[k] === value && k < c)) top = false;
    if (!top) continue;
    let sum = 0;
    let moment = 0;
    for (let k = from; k <= to; k++) {
      const w = Math.max(light[k], 0);
      sum += w;
      moment += w * (k + 0.5 - columns / 2);
    }
    peaks.push({ along: moment / sum, sigma: 0.05, height: value, atEdge: c < 5 || c >= columns - 5 });
  }
  return peaks;
}

function halfWidthOfBrightest(light: Float64Array, brightest: number): number {
  const top = light.indexOf(brightest);
  let [from, to] = [top, top];
  while (from > 0 && light[from - 1] > brightest / 2) from--;
  while (to < light.length - 1 && light[to + 1] > brightest / 2) to++;
  return (to - from) >> 1;
}
