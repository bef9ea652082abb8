/** Rows and columns of an index over wavelengths, for people and for other programs. */
import type { OpticalResponse } from "../medium/index.ts";
import { digits, table } from "./output.ts";

/** Wavelengths as the person counts them. */
export interface Shown {
  /** m, one for each of the response's */
  readonly wavelengths: Float64Array;
  readonly countedIn: "air" | "vacuum";
}

export interface Extra {
  readonly heading: string;
  /** for the CSV file */
  readonly column: string;
  readonly values: Float64Array;
}

export function indexRows(response: OpticalResponse, shown: Shown, extra: readonly Extra[] = []): string {
  const rows = [
    [
      `wavelength, nm ${shown.countedIn}`,
      "n - 1",
      "absorption, 1/m",
      "phase velocity, c",
      "group index",
      ...extra.map((each) => each.heading),
    ],
  ];
  for (let i = 0; i < shown.wavelengths.length; i++) {
    rows.push([
      (shown.wavelengths[i] * 1e9).toFixed(5),
      digits(response.refractivity[i], 5),
      digits(response.absorption[i], 5),
      response.phaseVelocity[i].toFixed(9),
      response.groupIndex[i].toFixed(6),
      ...extra.map((each) => digits(each.values[i], 5)),
    ]);
  }
  return table(rows);
}

export function indexCsv(response: OpticalResponse, shown: Shown, extra: readonly Extra[] = []): string {
  const columns: readonly (readonly [string, Float64Array])[] = [
    [`wavelength_${shown.countedIn}_m`, shown.wavelengths],
    ["refractivity", response.refractivity],
    ["absorption_per_m", response.absorption],
    ["phase_velocity_c", response.phaseVelocity],
    ["group_index", response.groupIndex],
    ...extra.map((each) => [each.column, each.values] as const),
  ];
  const rows = [columns.map(([name]) => name).join(",")];
  for (let i = 0; i < shown.wavelengths.length; i++)
    rows.push(columns.map(([, values]) => values[i].toPrecision(13)).join(","));
  return `${rows.join("\n")}\n`;
}
