/** Standard uncertainties of fitted values and of what is computed from them. */
import type { FitTerm, ParameterName } from "./fit-parameters.ts";

type Derivatives = Readonly<Partial<Record<ParameterName, number>>>;

export class FitCovariance {
  readonly size: number;
  private readonly places: ReadonlyMap<ParameterName, number>;
  /** noise part, and part of what was assumed beforehand; column-major */
  private readonly noise: Float64Array;
  private readonly belief: Float64Array;

  /**
   * @param matrix column-major n × n in the order of the terms, C = (JᵀJ + P)⁻¹ for unit noise; P: what was known before
   * @param inflation factor on all variances: noise shared by neighbours, misfit
   * @param added noise of what the fit took as it is, like `matrix`
   */
  constructor(terms: readonly FitTerm[], matrix: Float64Array, inflation: number, added?: Float64Array) {
    const n = terms.length;
    this.size = n;
    this.places = new Map(terms.map((term, k) => [term.name, k]));
    // C = C·JᵀJ·C + C·P·C: the first scatters from exposure to exposure, an assumption in the second never does.
    this.belief = new Float64Array(n * n);
    terms.forEach(({ prior }, a) => {
      if (prior?.assumed !== true) return;
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          this.belief[j * n + i] += (matrix[a * n + i] * matrix[a * n + j]) / prior.sigma ** 2;
    });
    this.noise = matrix.map((v, i) => inflation * (v - this.belief[i] + (added?.[i] ?? 0)));
    this.bound(terms);
  }

  /** A parameter that the picture says nothing about is known as far as its limits, evenly between them. */
  private bound(terms: readonly FitTerm[]): void {
    const n = this.size;
    terms.forEach((term, k) => {
      const widest = (term.upper - term.lower) ** 2 / 12;
      if (this.noise[k * n + k] <= widest) return;
      for (let j = 0; j < n; j++) this.noise[k * n + j] = this.noise[j * n + k] = 0;
      this.noise[k * n + k] = widest;
    });
    for (const part of [this.noise, this.belief])
      for (let i = 0; i < part.length; i++) if (!Number.isFinite(part[i])) part[i] = 0;
  }

  /** Standard uncertainty of a parameter from noise; 0 where it was not fitted. */
  sigma(name: ParameterName): number {
    return this.propagate({ [name]: 1 });
  }

  /** Standard uncertainty, from noise, of a function with the given derivatives. */
  propagate(derivatives: Derivatives): number {
    return this.spread(derivatives, this.noise);
  }

  /** What the assumed shape of the vapour across the beam adds to it. */
  assumed(derivatives: Derivatives): number {
    return this.spread(derivatives, this.belief);
  }

  private spread(derivatives: Derivatives, part: Float64Array): number {
    const names = Object.keys(derivatives) as ParameterName[];
    let variance = 0;
    for (const a of names) {
      for (const b of names) {
        const i = this.places.get(a);
        const j = this.places.get(b);
        if (i === undefined || j === undefined) continue;
        variance += (derivatives[a] ?? 0) * (derivatives[b] ?? 0) * part[j * this.size + i];
      }
    }
    return Math.sqrt(Math.max(variance, 0));
  }

  /** Row-major copy of the noise part. */
  table(): number[] {
    return Array.from(this.noise);
  }
}
