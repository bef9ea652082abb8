import { basename, dirname } from "node:path";
import { Command } from "commander";
import { type RunSheet, runSheet, runSheetHtml, runSheetText } from "../../plan/index.ts";
import { Refusal } from "../../quantity/index.ts";
import { forecast } from "../../setup/index.ts";
import { writeAll } from "../files.ts";
import { print, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

export function runsheetCommand(): Command {
  return new Command("runsheet")
    .description(
      "the day's sheet: cautions, local approval, interlocks, alignment, heating with expected pictures, log; a page or text",
    )
    .argument("<setup>", "setup file")
    .option(
      "-o, --output <file>",
      "where to write it: a name that ends in .html (with pictures) or .txt; without it text on stdout",
    )
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { output?: string; set: string[]; json?: boolean }) => {
      const ending = /\.(html|txt)$/.exec(options.output ?? ".txt")?.[1];
      if (ending === undefined) {
        throw new Refusal({
          code: "unknown-ending",
          field: "--output",
          received: JSON.stringify(options.output),
          expected: "a name that ends in .html or .txt",
        });
      }
      const { setup } = await openSetup(path, options.set);
      const sheet = runSheet(forecast(setup));
      const text = ending === "html" ? runSheetHtml(sheet) : runSheetText(sheet);
      if (options.output !== undefined)
        await writeAll(dirname(options.output), { [basename(options.output)]: text });
      if (options.json === true)
        print(toJson({ ...withoutPictures(sheet), provenance: provenanceOf(setup) }));
      else
        print(
          options.output === undefined
            ? text
            : `The run sheet stands in ${options.output}; it must be approved under local rules before use.`,
        );
    });
}

function withoutPictures(sheet: RunSheet) {
  const { shell: _shell, ...heat } = sheet.heat;
  return {
    ...sheet,
    heat,
    alignment: sheet.alignment.map(({ picture: _picture, ...step }) => step),
    heating: sheet.heating.map(({ picture: _picture, ...row }) => row),
  };
}
