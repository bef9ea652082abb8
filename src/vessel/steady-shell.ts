/** The shell's steady state. */
import { ShellModel } from "./shell.ts";
import type { ShellInput, ShellState } from "./shell-api.ts";

/**
 * Steady temperatures of a shell at its heater's power: the balance of heat closes to 1e-6 of the power. Found by
 * implicit steps of growing length, then Newton's method on the steady equation. Throws Refusal for input that is no
 * shell. `start`, the steady state of a shell that differs little, saves nine tenths of the work where Newton's method
 * settles from there; where it does not, the growing steps are taken.
 */
export function steadyShell(input: ShellInput, start?: ShellState): ShellState {
  const model = new ShellModel(input);
  if (start !== undefined && start.angular === model.angular && start.axial === model.axial) {
    const near = model.quarter(start);
    if (model.settles(near, input.power)) return model.state(near, input.power);
  }
  const temperature = new Float64Array(model.faces).fill(input.room);
  const before = temperature.slice();
  for (let dt = 30; dt < 1e7; dt *= 4) {
    before.set(temperature);
    model.advance(before, temperature, dt, input.power);
  }
  model.advance(temperature, temperature, Infinity, input.power);
  return model.state(temperature, input.power);
}
