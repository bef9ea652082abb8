import { Command } from "commander";
import { cautionsFor, check, type Finding, verdict } from "../../plan/index.ts";
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
      const said = verdict(findings);
      if (options.json === true)
        print(toJson({ verdict: said, findings, cautions, provenance: provenanceOf(setup) }));
      else
        print(
          [
            said.text,
            "",
            "Cautions",
            ...cautions.map(words),
            "",
            "The picture and the tube",
            ...findings.map(words),
          ].join("\n"),
        );
    });
}

function words(finding: Finding): string {
  const set = Object.entries(finding.remedy?.set ?? {}).map(([path, value]) => ` --set "${path}=${value}"`);
  const remedy =
    finding.remedy === undefined ? "" : `\n        remedy: ${finding.remedy.text}${set.join("")}`;
  return `${finding.level.padEnd(4)}    ${finding.sentence}${remedy}\n        source: ${finding.source}`;
}
