/** What is written into a notebook at the bench. */

import { basename } from "node:path";
import { Command } from "commander";
import {
  addForecast,
  addPicture,
  addPlan,
  addRemark,
  addReport,
  addSetup,
  logTemperatures,
  PICTURE_ROLES,
  type PictureRole,
  startRun,
  takeReading,
} from "../../notebook/index.ts";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import { overrideSetup, parseJsonObject } from "../../setup/index.ts";
import { decodeFrame, readBytes, readText } from "../files.ts";
import { type AddOptions, addingTo, commonOf, meant, tellAdded, within } from "../notebook-options.ts";
import { repeat } from "../setup-file.ts";

interface OfRun extends AddOptions {
  readonly run?: string;
}

const RUN = "the run it belongs to; 'last' means the newest";
const TEXT = "what else is to be said of it";

export function addCommand(): Command {
  const add = new Command("add").description("a setup, picture, forecast, plan or report");
  for (const make of [
    addSetupCommand,
    addPictureCommand,
    addForecastCommand,
    addPlanCommand,
    addReportCommand,
  ])
    add.addCommand(make());
  return add;
}

function addSetupCommand(): Command {
  return addingTo(new Command("setup"))
    .description("the next version of a setup")
    .argument("<file>", "setup file")
    .option("--name <name>", "name under which versions are kept; the setup's title when not given")
    .option("--text <words>", TEXT)
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .action(
      async (file: string, options: AddOptions & { readonly name?: string; readonly set: string[] }) => {
        const document = overrideSetup(parseJsonObject(await readText(file), file), options.set);
        await within(options, (notebook) => {
          const name = options.name === undefined ? {} : { name: options.name };
          tellAdded(addSetup(notebook, { ...commonOf(options), document, ...name }), options);
        });
      },
    );
}

function addPictureCommand(): Command {
  return addingTo(new Command("picture"))
    .description("a picture or film, kept with its original bytes")
    .argument("<file>", "the file as it came from the camera")
    .option("--role <role>", `what it shows: ${PICTURE_ROLES.join(", ")}`, "hot")
    .option("--exposure <time>", 'how long it was exposed, such as "20 ms"')
    .option("--run <entry>", RUN)
    .option("--text <words>", TEXT)
    .action(async (file: string, options: OfRun & { readonly role: string; readonly exposure?: string }) => {
      const bytes = await readBytes(file);
      await within(options, (notebook) => {
        const entry = addPicture(notebook, bytes, {
          ...commonOf(options),
          role: options.role as PictureRole,
          name: basename(file),
          ...(options.exposure === undefined
            ? {}
            : { exposure: parseQuantity(options.exposure, "s", "--exposure") }),
          ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
        });
        tellAdded(entry, options);
      });
    });
}

function addForecastCommand(): Command {
  return addingTo(new Command("forecast"))
    .description("what a kept setup will show: its numbers, and a digest of its picture")
    .argument("<setup>", "entry of the setup, or 'last'")
    .option("--cold", "the picture of the cold tube")
    .option("--run <entry>", RUN)
    .option("--text <words>", TEXT)
    .action(async (setup: string, options: OfRun & { readonly cold?: boolean }) => {
      await within(options, (notebook) => {
        const entry = addForecast(notebook, {
          ...commonOf(options),
          setup: meant(notebook, setup, "setup", "setup"),
          cold: options.cold === true,
          ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
        });
        tellAdded(entry, options);
      });
    });
}

function addPlanCommand(): Command {
  return addingTo(new Command("plan"))
    .description("the run sheet of a kept setup: cautions, verdict, heating table")
    .argument("<setup>", "entry of the setup, or 'last'")
    .option("--run <entry>", RUN)
    .option("--text <words>", TEXT)
    .action(async (setup: string, options: OfRun) => {
      await within(options, (notebook) => {
        const entry = addPlan(notebook, {
          ...commonOf(options),
          setup: meant(notebook, setup, "setup", "setup"),
          ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
        });
        tellAdded(entry, options);
      });
    });
}

function addReportCommand(): Command {
  return addingTo(new Command("report"))
    .description("a finished report: its files, and which readings it tells of")
    .argument("<files...>", "HTML and PDF files")
    .requiredOption("--title <words>", "its title")
    .option("--run <entry>", RUN)
    .option("--reading <entry>", "a reading it tells of; repeatable", repeat, [])
    .option("--text <words>", TEXT)
    .action(
      async (paths: string[], options: OfRun & { readonly title: string; readonly reading: string[] }) => {
        const files = await Promise.all(
          paths.map(async (path) => ({ name: basename(path), bytes: await readBytes(path) })),
        );
        await within(options, (notebook) => {
          const entry = addReport(notebook, {
            ...commonOf(options),
            title: options.title,
            files,
            readings: options.reading.map((each) => meant(notebook, each, "reading", "--reading")),
            ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
          });
          tellAdded(entry, options);
        });
      },
    );
}

export function startCommand(): Command {
  return addingTo(new Command("start"))
    .description("a run with a kept setup")
    .argument("<setup>", "entry of the setup, or 'last'")
    .argument("<title>", "what it is called")
    .option("--text <words>", TEXT)
    .action(async (setup: string, title: string, options: AddOptions) => {
      await within(options, (notebook) => {
        const of = meant(notebook, setup, "setup", "setup");
        tellAdded(startRun(notebook, { ...commonOf(options), title, setup: of }), options);
      });
    });
}

export function logCommand(): Command {
  return addingTo(new Command("log"))
    .description("temperatures of a run")
    .argument("<temperatures...>", 'place and temperature, such as bottom="290 degC"')
    .option("--run <entry>", RUN, "last")
    .option("--text <words>", TEXT)
    .action(async (given: string[], options: OfRun & { readonly run: string }) => {
      const temperatures: { [place: string]: string } = {};
      for (const each of given) {
        const at = each.indexOf("=");
        if (at < 1) {
          throw new Refusal({
            code: "bad-temperature",
            field: "temperatures",
            received: JSON.stringify(each),
            expected: 'place and temperature, such as bottom="290 degC"',
          });
        }
        temperatures[each.slice(0, at).trim()] = each.slice(at + 1).trim();
      }
      await within(options, (notebook) => {
        const run = meant(notebook, options.run, "run", "--run");
        tellAdded(logTemperatures(notebook, { ...commonOf(options), run, temperatures }), options);
      });
    });
}

export function remarkCommand(): Command {
  return addingTo(new Command("remark"))
    .description("words to be kept")
    .argument("<words>", "what is to be said")
    .option("--run <entry>", RUN)
    .action(async (text: string, options: OfRun) => {
      await within(options, (notebook) => {
        const run = options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") };
        tellAdded(addRemark(notebook, { ...commonOf(options), text, ...run }), options);
      });
    });
}

interface ReadOptions extends OfRun {
  readonly setup?: string;
  readonly cold?: string;
  readonly lamp?: string;
  readonly dark?: string;
  readonly lampLines?: string;
}

export function readKeptCommand(): Command {
  return addingTo(new Command("read"))
    .description("a kept picture read to numbers, and the reading kept")
    .argument("<picture>", "entry of the hot picture, or 'last'")
    .option("--setup <entry>", "the setup that made it, the run's when not given; 'last' means the newest")
    .option("--cold <entry>", "the same with the tube cold")
    .option("--lamp <entry>", "a line lamp through the plumb slit")
    .option("--dark <entry>", "the same with the light shut off")
    .option("--lamp-lines <names>", 'lamps and single lines, such as "Ar,Ne"')
    .option("--run <entry>", "the run it belongs to; the picture's when not given")
    .option("--text <words>", TEXT)
    .action(async (picture: string, options: ReadOptions) => {
      await within(options, async (notebook) => {
        const entry = await takeReading(
          notebook,
          {
            ...commonOf(options),
            hot: meant(notebook, picture, "picture", "picture"),
            ...(options.setup === undefined
              ? {}
              : { setup: meant(notebook, options.setup, "setup", "--setup") }),
            ...(options.cold === undefined ? {} : { cold: options.cold }),
            ...(options.lamp === undefined ? {} : { lamp: options.lamp }),
            ...(options.dark === undefined ? {} : { dark: options.dark }),
            ...(options.lampLines === undefined ? {} : { lampLines: options.lampLines }),
            ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
          },
          decodeFrame,
        );
        tellAdded(entry, options);
      });
    });
}
