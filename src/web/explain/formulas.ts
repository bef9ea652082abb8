/** The equations of the explaining views, in TeX. */
import type { ExplainWords } from "../../words/index.ts";

export const VIEWS = ["oscillator", "gap", "pair", "strengths", "velocities", "layers", "warming"] as const;
export type ViewId = (typeof VIEWS)[number];

export function formulaOf(view: ViewId, words: ExplainWords): string | undefined {
  const { phase, group, frontName } = words.velocities;
  const formulas: Readonly<Partial<Record<ViewId, string>>> = {
    oscillator: String.raw`x(t) = \frac{(e/m)\,E}{\omega_0^2 - \omega^2 - i\gamma\omega}\,e^{-i\omega t}`,
    gap: String.raw`\theta = \frac{n-1}{N}\,G \qquad T = e^{-\alpha\,C/N}`,
    pair: String.raw`n - 1 = \frac{r_e N}{2\pi}\sum_i \frac{f_i\,\lambda_i^2\,\lambda^2}{\lambda^2-\lambda_i^2}`,
    strengths: String.raw`\sum_i f_i = 1`,
    velocities: String.raw`v_\text{${phase}} = \frac{c}{n} \qquad v_\text{${group}} = \frac{c}{n+\omega\,\mathrm{d}n/\mathrm{d}\omega} \qquad v_\text{${frontName}} = c`,
    layers: String.raw`\frac{\mathrm{d}\theta}{\mathrm{d}s} = \frac{\mathrm{d}n}{\mathrm{d}y}`,
  };
  return formulas[view];
}
