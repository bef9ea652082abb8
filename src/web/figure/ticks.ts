/** Round numbers along an axis and the text that stands at them: pure, no DOM. */

export interface Tick {
  readonly value: number;
  readonly text: string;
}

/** Step of about `wanted` intervals over a span: 1, 2 or 5 times a power of ten. Span > 0. */
export function roundStep(span: number, wanted: number): number {
  const raw = span / Math.max(1, wanted);
  const power = 10 ** Math.floor(Math.log10(raw));
  const lead = raw / power;
  // Geometric means of 1, 2, 5, 10 part the steps fairly.
  return power * (lead < Math.SQRT2 ? 1 : lead < Math.sqrt(10) ? 2 : lead < Math.sqrt(50) ? 5 : 10);
}

/** Round values from `from` to `to` (either may be larger) with just the decimals the step needs and a real minus sign. */
export function roundTicks(from: number, to: number, wanted: number): readonly Tick[] {
  const [low, high] = from < to ? [from, to] : [to, from];
  if (!(high > low)) return [];
  const step = roundStep(high - low, wanted);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: Tick[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++) {
    const text = (k * step).toFixed(decimals);
    ticks.push({ value: Number(text), text: text.replace("-", "\u2212") });
  }
  return ticks;
}
