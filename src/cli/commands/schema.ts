import { Command } from "commander";
import { Refusal } from "../../quantity/index.ts";
import { print, toJson } from "../output.ts";
import { SCHEMA_NAMES, schemaNamed } from "../schemas.ts";

export function schemaCommand(): Command {
  return new Command("schema")
    .description("the JSON Schema of a setup file or of what a command prints with --json")
    .argument("[name]", `one of ${SCHEMA_NAMES.join(", ")}`, "setup")
    .action((name: string) => {
      if (!SCHEMA_NAMES.includes(name)) {
        throw new Refusal({
          code: "unknown-schema",
          field: "schema",
          received: JSON.stringify(name),
          expected: `one of ${SCHEMA_NAMES.join(", ")}`,
        });
      }
      print(toJson(schemaNamed(name)));
    });
}
