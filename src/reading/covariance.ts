/** Standard uncertainties of fitted values and of what is computed from them. */
import type { FitTerm, ParameterName } from "./pixel-fit.ts";

export class FitCovariance {
  readonly size: number;
  private readonly places: ReadonlyMap<ParameterName, number>;

  /**
   * @param matrix column-major n × n in the order of the terms, for unit noise
   * @param inflation factor on all variances: noise shared by neighbours, misfit
   */
  constructor(
    terms: readonly FitTerm[],
    private readonly matrix: Float64Array,
    private readonly inflation: number,
  ) {
    this.size = terms.length;
    this.places = new Map(terms.map((term, k) => [term.name, k]));
  }

  /** Covariance of two parameters; 0 where one was not fitted. */
  of(a: ParameterName, b: ParameterName): number {
    const i = this.places.get(a);
    const j = this.places.get(b);
    return i === undefined || j === undefined ? 0 : this.inflation * this.matrix[j * this.size + i];
  }

  sigma(name: ParameterName): number {
    return Math.sqrt(Math.max(this.of(name, name), 0));
  }

  /** Standard uncertainty of a function with the given derivatives. */
  propagate(derivatives: Readonly<Partial<Record<ParameterName, number>>>): number {
    const names = Object.keys(derivatives) as ParameterName[];
    let variance = 0;
    for (const a of names)
      for (const b of names) variance += (derivatives[a] ?? 0) * (derivatives[b] ?? 0) * this.of(a, b);
    return Math.sqrt(Math.max(variance, 0));
  }

  /** Row-major copy. */
  table(): number[] {
    return Array.from(this.matrix, (v) => v * this.inflation);
  }
}
