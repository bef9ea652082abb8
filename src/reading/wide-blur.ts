/**
 * A slit's image far out of focus. All that its light then shows well are its sum, brightness · width, and its spread, width²/12 + blur²: brightness, width and
 * blur make up for each other. A straight step in all three leaves that curve, and a fit creeps along it in dozens of short ones.
 */

/** Places of the three in a fit's parameters. */
export interface Blurred {
  readonly brightness: number;
  readonly width: number;
  readonly blur: number;
}

/**
 * Bends a step by its terms of second order, so that sum and spread change as the straight step says they do at its start:
 * blur′² = blur² + 2·blur·Δblur − Δwidth²/12, brightness′ = (brightness·width + width·Δbrightness + brightness·Δwidth)/width′.
 * With less blur than the box has spread of its own, whose edges then show, the step stays straight.
 */
export function bendStep(from: Float64Array, to: Float64Array, { brightness, width, blur }: Blurred): void {
  const here = from[blur];
  if (here * here < from[width] ** 2 / 12) return;
  const wider = to[width] - from[width];
  const square = here * here + 2 * here * (to[blur] - here) - (wider * wider) / 12;
  if (square <= (here / 2) ** 2) return;
  to[blur] = Math.sqrt(square);
  to[brightness] -= ((to[brightness] - from[brightness]) * wider) / to[width];
}
