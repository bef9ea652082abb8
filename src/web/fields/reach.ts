/** How far the rule beside a number drags it: a stretch around the value that makes sense to feel out. Pure. */
import type { QuantityField } from "../../setup/field-kinds.ts";

export interface Reach {
  readonly from: number;
  readonly to: number;
  /** true where equal distances on the rule are equal ratios */
  readonly ratio: boolean;
}

/** Temperatures move this far either way, K. */
const KELVINS = 100;
/** Positive quantities move by this factor either way. */
const FACTOR = 6;

export function reachOf(field: QuantityField, value: number): Reach {
  const clamp = (x: number): number => Math.min(field.max, Math.max(field.min, x));
  if (field.unit === "K") return { from: clamp(value - KELVINS), to: clamp(value + KELVINS), ratio: false };
  if (field.path === "path.beamHeight") return { from: clamp(-0.012), to: clamp(0.012), ratio: false };
  if (field.unit === "rad") {
    const reach = field.min < 0 ? 0.05 : Number.POSITIVE_INFINITY;
    return { from: clamp(-reach), to: clamp(reach), ratio: false };
  }
  if (field.path === "path.centreWavelength")
    return { from: clamp(value * 0.98), to: clamp(value * 1.02), ratio: false };
  if (value <= 0 || field.min < 0)
    return { from: clamp(0), to: clamp(Math.max(value * 2, 2e-5)), ratio: false };
  return { from: clamp(value / FACTOR), to: clamp(value * FACTOR), ratio: true };
}

/** Share of the rule, 0…1, at which a value stands. */
export function shareOf(reach: Reach, value: number): number {
  const share = reach.ratio
    ? Math.log(value / reach.from) / Math.log(reach.to / reach.from)
    : (value - reach.from) / (reach.to - reach.from);
  return Math.min(1, Math.max(0, share));
}

export function valueAtShare(reach: Reach, share: number): number {
  return reach.ratio
    ? reach.from * (reach.to / reach.from) ** share
    : reach.from + share * (reach.to - reach.from);
}

export function holds(reach: Reach, value: number): boolean {
  return value >= reach.from && value <= reach.to;
}
