/** Says no to what is no shell. */
import { Refusal } from "../quantity/refusal.ts";
import { coolant, insulationMaterial, tubeMaterial } from "./materials.ts";
import type { Cooling, ShellInput } from "./shell-api.ts";

/** Refuses a shell whose numbers contradict each other; names the first field at fault. */
export function checkShell(input: ShellInput): void {
  tubeMaterial(input.material);
  within("shell.bore", input.bore, 1e-3, 1, "m");
  within("shell.heatedLength", input.heatedLength, 1e-3, 100, "m");
  within("shell.length", input.length, input.heatedLength, 100, "m");
  within("shell.thickness", input.thickness, 1e-5, 0.1, "m");
  within("shell.hotStrip", input.hotStrip, 0.02, 6.28, "rad");
  within("shell.power", input.power, 0, 1e6, "W");
  within("shell.room", input.room, 200, 400, "K");
  if (input.emissivity !== undefined) within("shell.emissivity", input.emissivity, 0, 1, "");
  if (input.heater.kind === "gas") within("shell.heater.efficiency", input.heater.efficiency, 0, 1, "");
  if (input.insulation !== undefined) {
    insulationMaterial(input.insulation.material);
    within("shell.insulation.thickness", input.insulation.thickness, 1e-4, 1, "m");
  }
  checkCooling("shell.topCooling", input.topCooling);
  checkCooling("shell.endCooling", input.endCooling);
}

function checkCooling(field: string, cooling: Cooling): void {
  switch (cooling.kind) {
    case "still-air":
      break;
    case "fins":
      within(`${field}.areaFactor`, cooling.areaFactor, 1, 100, "");
      break;
    case "blown-air":
      within(`${field}.speed`, cooling.speed, 0.01, 100, "m/s");
      break;
    case "liquid":
      coolant(cooling.coolant);
      within(`${field}.flow`, cooling.flow, 1e-5, 10, "kg/s");
      within(`${field}.inlet`, cooling.inlet, 250, 600, "K");
      within(`${field}.conductance`, cooling.conductance, 0, 1e5, "W/(m² K)");
      break;
    case "fixed":
      within(`${field}.coefficient`, cooling.coefficient, 0, 1e5, "W/(m² K)");
      break;
  }
}

function within(field: string, value: number, low: number, high: number, unit: string): void {
  if (value >= low && value <= high) return;
  throw new Refusal({
    code: "out-of-range",
    field,
    received: `${value} ${unit}`.trim(),
    expected: `a value from ${low} to ${high} ${unit}`.trim(),
  });
}
