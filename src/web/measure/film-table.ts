import type { FilmFrame } from "./protocol.ts";

/** The film's numbers as CSV: SI units, all digits, one line a frame; empty where a frame could not be read. */
export function filmTable(frames: readonly FilmFrame[]): string {
  const head =
    "time_s,column_gradient_m-3,column_gradient_uncertainty_m-3,column_density_m-2,column_density_uncertainty_m-2,tilt_rad,verdict,refused";
  const lines = frames.map(({ time, columnGradient, columnDensity, tilt, verdict, refused }) =>
    [
      time,
      columnGradient?.value ?? "",
      columnGradient?.combinedUncertainty ?? "",
      columnDensity?.value ?? "",
      columnDensity?.combinedUncertainty ?? "",
      tilt?.value ?? "",
      verdict ?? "",
      refused === undefined ? "" : `"${refused.replaceAll('"', '""')}"`,
    ].join(","),
  );
  return `${[head, ...lines].join("\n")}\n`;
}
