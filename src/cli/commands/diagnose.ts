import { Command } from "commander";
import { type Diagnosis, diagnose } from "../../reading/index.ts";
import { print, toJson } from "../output.ts";
import { framesUsed, type PhotographOptions, photographOptions, withPhotograph } from "../photograph.ts";
import { provenanceOf } from "../provenance.ts";

export function diagnoseCommand(): Command {
  return photographOptions(new Command("diagnose"))
    .description(
      "why a picture is not as foretold: likely causes, best first, each with its evidence and remedy",
    )
    .option("--json", "one JSON document on stdout")
    .action(async (pictures: string[], options: PhotographOptions & { readonly json?: boolean }) => {
      const { result, setup } = await withPhotograph(pictures, options, (input) => diagnose(input));
      const record = { files: framesUsed(pictures, options), provenance: provenanceOf(setup) };
      print(options.json === true ? toJson({ ...result, ...record }) : words(result));
    });
}

function words(diagnosis: Diagnosis): string {
  const causes = diagnosis.causes.map((cause) =>
    [
      `${Math.round(100 * cause.weight)} %  ${cause.cause}: ${cause.evidence}`,
      ...(cause.group === undefined
        ? []
        : [`      one picture cannot part: ${cause.group.members.join(", ")}; test: ${cause.group.test}`]),
      ...(cause.where === undefined
        ? []
        : [
            `      seen in: ${cause.where.frame} picture, columns ${cause.where.columns.join("–")}, rows ${cause.where.rows.join("–")}`,
          ]),
      `      remedy: ${cause.remedy}`,
    ].join("\n"),
  );
  return [diagnosis.text, ...causes].join("\n");
}
