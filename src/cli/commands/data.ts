import { Command } from "commander";
import { lookup, type StoredValue } from "../../reference/lookup.ts";
import { print, table, toJson } from "../output.ts";

export function dataCommand(): Command {
  return new Command("data")
    .description("any published value inside, with its unit, uncertainty and source")
    .argument("<name>", "dotted path such as lines.KI-766.70vac.f_absorption, or words")
    .option("--json", "one JSON document on stdout")
    .action((name: string, options: { json?: boolean }) => {
      const values = lookup(name, "data");
      print(options.json === true ? toJson({ values }) : values.map(words).join("\n\n"));
    });
}

function words(value: StoredValue): string {
  const rows = Object.entries(value)
    .filter(([key, item]) => key !== "bare" && item !== undefined && item !== null)
    .map(([key, item]) => [key, typeof item === "object" ? JSON.stringify(item) : String(item)]);
  const mark =
    value.origin === "memory" ? "\nThis value was recalled from memory, not seen in a published copy." : "";
  return table(rows.map(([key = "", item = ""]) => [`${key}: ${item}`])) + mark;
}
