import { Command } from "commander";
import { cautionsFor, check, type Finding, verdict } from "../../plan/index.ts";
import { forecast } from "../../setup/index.ts";
import { print, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { grant } from "../wishes.ts";

export function checkCommand(): Command {
  return new Command("check")
    .description("can it be seen, and what could go wrong: each finding with its number, reason and remedy")
    .argument("<setup>", "setup file")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option(
      "--wish <wish>",
      'slits for a wish: "0.1 nm" or "80 urad" told apart, or class (bright enough for one); repeatable',
      repeat,
      [],
    )
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { set: string[]; wish: string[]; json?: boolean }) => {
      const { setup } = await openSetup(path, options.set);
      const result = forecast(setup);
      const findings = check(result);
      const slits = options.wish.map((wish) => grant(result, wish));
      const cautions = cautionsFor(setup);
      const said = verdict(findings);
      if (options.json === true)
        print(
          toJson({
            verdict: said,
            findings,
            cautions,
            ...(slits.length === 0 ? {} : { slits }),
            provenance: provenanceOf(setup),
          }),
        );
      else
        print(
          [
            said.text,
            "",
            "Cautions",
            ...cautions.map(words),
            "",
            "The picture and the vessel",
            ...findings.map(words),
            ...(slits.length === 0 ? [] : ["", "Slits", ...slits.map(({ sentence }) => sentence)]),
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
