/** Materials of tubes, insulations and coolants, read from data/materials.json. */
import data from "../../data/materials.json" with { type: "json" };
import { Refusal } from "../quantity/refusal.ts";

interface Table {
  readonly temperature: readonly number[];
}

export type TubeMaterial = (typeof data.tubes)[number];
export type Insulation = (typeof data.insulations)[number];
export type Coolant = (typeof data.coolants)[number];

export const TUBE_MATERIALS: readonly string[] = data.tubes.map((each) => each.id);

export function tubeMaterial(id: string): TubeMaterial {
  return find(data.tubes, id, "shell.material");
}

export function insulationMaterial(id: string): Insulation {
  return find(data.insulations, id, "shell.insulation.material");
}

export function coolant(id: string): Coolant {
  return find(data.coolants, id, "shell.cooling.coolant");
}

function find<T extends { readonly id: string }>(entries: readonly T[], id: string, field: string): T {
  const found = entries.find((each) => each.id === id);
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-material",
    field,
    received: `"${id}"`,
    expected: `one of ${entries.map((each) => each.id).join(", ")}`,
  });
}

/** Linear between the table's points, held beyond them. */
export function tabulated(table: Table, values: readonly number[], temperature: number): number {
  const t = table.temperature;
  if (temperature <= t[0]) return values[0];
  for (let i = 1; i < t.length; i++) {
    if (temperature <= t[i]) {
      return values[i - 1] + ((values[i] - values[i - 1]) * (temperature - t[i - 1])) / (t[i] - t[i - 1]);
    }
  }
  return values[values.length - 1];
}
