import { cos } from "../numerics/elementary/index.ts";

/**
 * Radiation across the bore, slice by slice: grey diffuse walls of a long round tube. Between two strips an angle δ
 * apart the view factor is ¼ |sin(δ/2)| dδ (crossed strings); many reflections by the radiosity method, in closed form
 * because the ring is the same all round: harmonic m of σT⁴ is exchanged with ε [1 − ε f_m/(1 − (1 − ε) f_m)], f_m the
 * harmonic of the view factor. Exchange along the tube is left out: the hot length is many bores long.
 */
export function boreExchange(angular: number, emissivity: number): Float64Array {
  const step = (2 * Math.PI) / angular;
  const view = new Float64Array(angular);
  for (let d = 0; d < angular; d++) {
    // Mean over the receiving strip: ∫ ¼|sin(δ/2)| dδ over it.
    const a = (d - 0.5) * step;
    const b = (d + 0.5) * step;
    view[d] = d === 0 ? 1 - cos(0.25 * step) : 0.5 * (cos(0.5 * a) - cos(0.5 * b));
  }
  const total = view.reduce((sum, v) => sum + v, 0);
  const exchange = new Float64Array(angular);
  if (emissivity === 0) return exchange;
  for (let m = 0; m < angular; m++) {
    let f = 0;
    for (let d = 0; d < angular; d++) f += (view[d] / total) * cos(m * d * step);
    const share = emissivity * (1 - (emissivity * f) / (1 - (1 - emissivity) * f));
    for (let d = 0; d < angular; d++) exchange[d] += (share * cos(m * d * step)) / angular;
  }
  return exchange;
}
