import { Command } from "commander";
import { compareElements, type ElementRow } from "../../plan/index.ts";
import { fromCoherent } from "../../quantity/index.ts";
import { digits, print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

export function elementsCommand(): Command {
  return new Command("elements")
    .description(
      "every metal and line that this bench could show, side by side, each at the heat that suits it",
    )
    .argument("<setup>", "setup file of the bench")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { set: string[]; json?: boolean }) => {
      const { setup } = await openSetup(path, options.set);
      const rows = compareElements(setup);
      print(options.json === true ? toJson({ rows, provenance: provenanceOf(setup) }) : words(rows));
    });
}

function words(rows: readonly ElementRow[]): string {
  const header = [
    "line",
    "colour",
    "metal, °C",
    "top, °C",
    "height, mm",
    "in thicknesses",
    "half-gap, nm",
    "pair in blurs",
    "supersaturation",
  ];
  const body = rows.map((row) => {
    const name = `${row.element} ${(row.wavelength * 1e9).toFixed(2)}`;
    if (row.shown === null) return [name, row.colour, "", "", "", "", "", "", ""];
    const { bottom, top, outcome } = row.shown;
    const cell = (value: number | null, unit: string): string =>
      value === null ? "" : digits(fromCoherent(value, unit), 3);
    return [
      name,
      row.colour,
      String(Math.round(bottom - 273.15)),
      String(Math.round(top - 273.15)),
      cell(outcome.height, "mm"),
      cell(outcome.heightTimes, "1"),
      cell(outcome.halfGap, "nm"),
      cell(outcome.pairTimes, "1"),
      cell(outcome.supersaturation, "1"),
    ];
  });
  const lines = table([header, ...body]).split("\n");
  const width = Math.max(...lines.map((line) => line.length));
  const remarks = [
    "remark; hazards",
    ...rows.map((row) => [row.remark, row.hazards.join(", ")].filter((part) => part !== "").join("; ")),
  ];
  return lines.map((line, i) => `${line.padEnd(width)}  ${remarks[i]}`.trimEnd()).join("\n");
}
