import { Command } from "commander";
import { cautionsFor, check, type Finding } from "../../plan/index.ts";
import { forecast } from "../../setup/index.ts";
import { print, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

export function checkCommand(): Command {
  return new Command("check")
    .description("can it be seen, and what could go wrong: each finding with its number, reason and remedy")
    .argument("<setup>", "setup file")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { set: string[]; json?: boolean }) => {
      const { setup } = await openSetup(path, options.set);
      const findings = check(forecast(setup));
      const cautions = cautionsFor(setup);
      if (options.json === true) print(toJson({ findings, cautions, provenance: provenanceOf(setup) }));
      else print([...findings, ...cautions].map(words).join("\n"));
    });
}

function words(finding: Finding): string {
  const remedy = finding.remedy === undefined ? "" : `\n        remedy: ${finding.remedy.text}`;
  return `${finding.level.padEnd(4)}    ${finding.sentence}${remedy}\n        source: ${finding.source}`;
}
