/** How the light a line takes away grows with the column of atoms: linear, flat, then with the square root. */
import { asinh, cosh, expm1, log, pow, sinh } from "../numerics/elementary/index.ts";
import { faddeevaArray } from "../numerics/index.ts";
import { Refusal } from "../quantity/index.ts";
import { CLASSICAL_ELECTRON_RADIUS, lineById, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { VapourState } from "./api.ts";
import { lineComponents } from "./components.ts";
import { checkState } from "./state.ts";
import { packComponents, susceptibility } from "./susceptibility.ts";

/** Points per unit of the stretched variable, and its reach: u = sinh t, |u| ≤ 10⁶. */
const FINENESS = 250;
const REACH = 14.5;

/**
 * Dimensionless equivalent width ∫(1 − exp(−τ₀ H(a,u)/H(a,0))) du over all u, H the Voigt function Re w(u + ia).
 * Limits: √π τ₀ for τ₀ → 0, about 2√(ln τ₀) on the flat part, 2√(√π a τ₀) (with H(a,0) ≈ 1) on the square-root part.
 * Accuracy 10⁻⁶ for 10⁻⁶ ≤ a ≤ 10 and τ₀ ≤ 10⁸ (tested against scipy's quadrature).
 *
 * @param opticalDepth τ₀ at the line's centre, ≥ 0
 * @param damping a: Lorentz half width over Doppler 1/e half width, ≥ 0
 */
export function curveOfGrowth(opticalDepth: number, damping: number): number {
  need("opticalDepth", opticalDepth, opticalDepth >= 0, "0 or more");
  need("damping", damping, damping >= 0, "0 or more");
  const last = Math.ceil(REACH * FINENESS);
  const u = Float64Array.from({ length: last + 1 }, (_, k) => sinh(k / FINENESS));
  const w = new Float64Array(2 * u.length);
  faddeevaArray(u, new Float64Array(u.length).fill(damping), w);
  let sum = 0;
  for (let k = 0; k <= last; k++) {
    const taken = -expm1((-opticalDepth * w[2 * k]) / w[0]);
    // du = cosh t dt
    sum += (k === 0 || k === last ? 0.5 : 1) * taken * Math.sqrt(1 + u[k] * u[k]);
  }
  // beyond the last point the wing is a/(√π u²), and little is taken
  const beyond = (opticalDepth * damping) / (Math.sqrt(Math.PI) * w[0] * u[last]);
  return 2 * (sum / FINENESS + beyond);
}

export interface EquivalentWidth {
  /** ∫(1 − transmission) dλ over the line, m */
  readonly width: number;
  /** the three closed forms, m: each holds on its own part of the curve of growth */
  readonly linear: number;
  /** 2σ√(ln τ₀), 0 where τ₀ ≤ 1; for one Doppler line without structure */
  readonly flat: number;
  /** 2π√(r_e c f γ C) in angular frequency */
  readonly squareRoot: number;
}

/**
 * Equivalent width of one line (all its components, no other line) behind a column of vapour.
 *
 * @param columnDensity C = ∫N dz, m⁻², ≥ 0
 * @throws Refusal for a line of another element or a negative column
 */
export function equivalentWidth(state: VapourState, lineId: string, columnDensity: number): EquivalentWidth {
  checkState(state);
  const line = lineById(lineId);
  if (line.element !== state.element) {
    throw new Refusal({
      code: "bad-line",
      field: "line",
      received: lineId,
      expected: `a line of ${state.element}`,
    });
  }
  need("columnDensity", columnDensity, columnDensity >= 0, "0 m⁻² or more");
  const components = lineComponents(line, state);
  const omegas = components.map((each) => (2 * Math.PI * SPEED_OF_LIGHT) / each.wavelength + each.shift);
  const centre = omegas.reduce((sum, omega, k) => sum + omega * components[k].weight, 0);
  const scale = Math.max(...components.map((each) => each.dopplerWidth), components[0].lorentzWidth);
  // ω = centre + scale·sinh t, both sides, as far as 0.3 of the line's own frequency
  const reach = asinh((0.3 * centre) / scale);
  const count = 2 * Math.ceil(reach * FINENESS) + 1;
  const step = (2 * reach) / (count - 1);
  const grid = Float64Array.from({ length: count }, (_, k) => centre + scale * sinh(k * step - reach));
  const { im } = susceptibility(packComponents(components, columnDensity), grid);
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const depth = (grid[k] * im[k]) / SPEED_OF_LIGHT;
    // dλ = 2πc/ω² dω, dω = scale·cosh t dt
    const stretch = (scale * cosh(k * step - reach) * 2 * Math.PI * SPEED_OF_LIGHT) / pow(grid[k], 2);
    sum += (k === 0 || k === count - 1 ? 0.5 : 1) * -expm1(-depth) * stretch;
  }
  const { oscillatorStrength, population, lorentzWidth } = components[0];
  const strength =
    CLASSICAL_ELECTRON_RADIUS * SPEED_OF_LIGHT * oscillatorStrength * population * columnDensity;
  const perOmega = pow(line.wavelength, 2) / (2 * Math.PI * SPEED_OF_LIGHT);
  const sigma = components[0].dopplerWidth;
  const peak = (2 * pow(Math.PI, 1.5) * strength) / sigma;
  return {
    width: sum * step,
    linear: perOmega * 2 * pow(Math.PI, 2) * strength,
    flat: peak > 1 ? perOmega * 2 * sigma * Math.sqrt(log(peak)) : 0,
    squareRoot: perOmega * 2 * Math.PI * Math.sqrt(strength * lorentzWidth),
  };
}

function need(field: string, value: number, holds: boolean, expected: string): void {
  if (holds && Number.isFinite(value)) return;
  throw new Refusal({ code: `bad-${field}`, field, received: String(value), expected });
}
