import { basename, dirname } from "node:path";
import { Command } from "commander";
import {
  type Entry,
  ENTRY_KINDS,
  type EntryKind,
  exportNotebook,
  importNotebook,
  mendNotebook,
  Notebook,
  type NotebookQuery,
  type Verification,
  verifyNotebook,
} from "../../notebook/index.ts";
import { parseAny, Refusal } from "../../quantity/index.ts";
import { decodeFrame, writeAll } from "../files.ts";
import { BadNews, type InOption, inNotebook, meant, within, quiet } from "../notebook-options.ts";
import { print, table, toJson } from "../output.ts";
import { repeat } from "../setup-file.ts";
import { addCommand, logCommand, readKeptCommand, remarkCommand, startCommand } from "./notebook-add.ts";

export function notebookCommand(): Command {
  const notebook = new Command("notebook").description(
    "the record of the laboratory: setups, runs, temperatures, pictures, readings; nothing in it is ever overwritten",
  );
  for (const make of [
    newCommand,
    addCommand,
    startCommand,
    logCommand,
    remarkCommand,
    readKeptCommand,
    listCommand,
    findCommand,
    showCommand,
    exportCommand,
    importCommand,
    verifyCommand,
    mendCommand,
  ])
    notebook.addCommand(make());
  quiet(notebook);
  return notebook;
}

function newCommand(): Command {
  return new Command("new")
    .description("an empty notebook in a folder")
    .argument("<folder>", "where it shall stand")
    .action((folder: string) => {
      Notebook.create(folder).close();
      print(`An empty notebook stands in ${folder}.`);
    });
}

function listCommand(): Command {
  return inNotebook(new Command("list"))
    .description("the newest entries")
    .option("--kind <kind>", `only one of ${ENTRY_KINDS.join(", ")}; repeatable`, repeat, [])
    .option("--run <entry>", "only what belongs to this run; 'last' means the newest")
    .option("--limit <number>", "how many", "20")
    .option("--before <number>", "only entries with a smaller number")
    .action(async (options: InOption & FindOptions) => {
      await within(
        options,
        (notebook) => tellPage(notebook, queryOf(notebook, undefined, options), options),
        true,
      );
    });
}

interface FindOptions {
  readonly kind: string[];
  readonly run?: string;
  readonly limit: string;
  readonly before?: string;
  readonly element?: string;
  readonly from?: string;
  readonly to?: string;
  readonly number?: string;
}

function findCommand(): Command {
  return inNotebook(new Command("find"))
    .description("entries by words, element, time, or a number between two ends")
    .argument("[words]", "words that all occur; a word may end in *")
    .option("--element <symbol>", "metal it is about")
    .option("--from <time>", "from this date or time on")
    .option("--to <time>", "up to this date or time")
    .option(
      "--number <name=range>",
      'a number by name, such as "columnGradient=-3e21 m-3..-1e21 m-3", "temperature.bottom=280 degC.." or "fRatio=1.9..2.1"',
    )
    .option("--kind <kind>", `only one of ${ENTRY_KINDS.join(", ")}; repeatable`, repeat, [])
    .option("--run <entry>", "only what belongs to this run; 'last' means the newest")
    .option("--limit <number>", "how many", "20")
    .option("--before <number>", "only entries with a smaller number")
    .action(async (words: string | undefined, options: InOption & FindOptions) => {
      await within(
        options,
        (notebook) => tellPage(notebook, queryOf(notebook, words, options), options),
        true,
      );
    });
}

function queryOf(notebook: Notebook, words: string | undefined, options: FindOptions): NotebookQuery {
  return {
    ...(words === undefined ? {} : { words }),
    ...(options.kind.length === 0 ? {} : { kinds: options.kind as EntryKind[] }),
    ...(options.element === undefined ? {} : { element: options.element }),
    ...(options.from === undefined ? {} : { from: options.from }),
    ...(options.to === undefined ? {} : { to: options.to }),
    ...(options.number === undefined ? {} : { number: numberOf(options.number) }),
    ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
    ...(options.before === undefined ? {} : { before: Number(options.before) }),
    limit: Number(options.limit),
  };
}

function numberOf(text: string): NonNullable<NotebookQuery["number"]> {
  const [, name = "", least = "", most = ""] = /^([^=]+)=(.*?)\.\.(.*)$/.exec(text) ?? [];
  if (name === "" || (least.trim() === "" && most.trim() === "")) {
    throw new Refusal({
      code: "bad-range",
      field: "--number",
      received: JSON.stringify(text),
      expected: 'a name and a range, such as "fRatio=1.9..2.1"',
    });
  }
  const value = (end: string): number => parseAny(end, "--number").value;
  return {
    name: name.trim(),
    ...(least.trim() === "" ? {} : { least: value(least) }),
    ...(most.trim() === "" ? {} : { most: value(most) }),
  };
}

function tellPage(notebook: Notebook, query: NotebookQuery, options: InOption): void {
  const page = notebook.find(query);
  if (options.json === true) {
    print(toJson(page));
    return;
  }
  const rows = page.entries.map((entry) => [
    `${entry.id}  ${entry.at.slice(0, 16).replace("T", " ")}  ${entry.kind}`,
    `${entry.title}${entry.correctedBy.length > 0 ? " (corrected)" : ""}`,
  ]);
  const width = Math.max(0, ...rows.map(([head]) => head.length));
  const lines = rows.map(([head, title]) => `${head.padEnd(width)}  ${title}`);
  const more = page.next === null ? [] : [`more with --before ${page.next}`];
  print([...(lines.length === 0 ? ["no entry"] : lines), ...more].join("\n"));
}

function showCommand(): Command {
  return inNotebook(new Command("show"))
    .description("one entry whole, and its files")
    .argument("<entry>", "its number, or its name or the beginning of it")
    .option("-o, --output <folder>", "folder to put its files into, with their original bytes")
    .action(async (reference: string, options: InOption & { readonly output?: string }) => {
      await within(
        options,
        async (notebook) => {
          const entry = notebook.get(reference);
          if (options.output !== undefined) {
            const files = entry.files.map(({ name, sha256 }) => [name, notebook.file(sha256).bytes] as const);
            await writeAll(options.output, Object.fromEntries(files));
          }
          print(options.json === true ? toJson(entry) : told(notebook, entry));
        },
        true,
      );
    });
}

function told(notebook: Notebook, entry: Entry): string {
  const rows = [
    ["entry", `${entry.id}, ${entry.uid}`],
    ["kind", entry.kind],
    ["time", `${entry.at}, written down ${entry.recorded}`],
    ...(entry.by === "" ? [] : [["by", entry.by]]),
    ["title", entry.title],
    ...(entry.text === "" ? [] : [["words", entry.text]]),
    ...entry.links.map(({ role, to }) => {
      const target = notebook.get(to);
      return [role, `entry ${target.id}, ${target.title}`];
    }),
    ...entry.files.map((file) => [file.part, `${file.name}, ${file.bytes} bytes, SHA-256 ${file.sha256}`]),
    ...entry.correctedBy.map((uid) => ["corrected by", `entry ${notebook.get(uid).id}`]),
  ];
  const width = Math.max(...rows.map(([name]) => name.length));
  const body = Object.keys(entry.body).length === 0 ? [] : ["", toJson(entry.body)];
  return [...rows.map(([name, value]) => `${name.padEnd(width)}  ${value}`), ...body].join("\n");
}

interface ExportCommandOptions extends InOption {
  readonly run?: string;
  readonly name?: string;
  readonly description?: string;
  readonly license?: string;
}

function exportCommand(): Command {
  return inNotebook(new Command("export"))
    .description(
      "the notebook, or one run, as an RO-Crate 1.1: a ZIP file that others can open without this program",
    )
    .argument("<file>", "ZIP file to write")
    .option("--run <entry>", "only this run and what belongs to it; 'last' means the newest")
    .option("--name <words>", "name of the crate")
    .option("--description <words>", "what it is about")
    .option("--license <address>", "address of its licence, or words on how it may be used")
    .action(async (file: string, options: ExportCommandOptions) => {
      await within(
        options,
        (notebook) => {
          const done = exportNotebook(notebook, file, {
            ...(options.run === undefined ? {} : { run: meant(notebook, options.run, "run", "--run") }),
            ...(options.name === undefined ? {} : { name: options.name }),
            ...(options.description === undefined ? {} : { description: options.description }),
            ...(options.license === undefined ? {} : { license: options.license }),
          });
          print(
            options.json === true
              ? toJson(done)
              : `${done.entries} entries and ${done.files} files stand in ${basename(file)} in ${dirname(file)}`,
          );
        },
        true,
      );
    });
}

function importCommand(): Command {
  return inNotebook(new Command("import"))
    .description("the entries of an exported notebook into this one; those it has already are left alone")
    .argument("<file>", "ZIP file that export wrote")
    .action(async (file: string, options: InOption) => {
      await within(options, (notebook) => {
        const done = importNotebook(notebook, file);
        print(options.json === true ? toJson(done) : `${done.added} of ${done.entries} entries are new`);
      });
    });
}

function verifyCommand(): Command {
  return inNotebook(new Command("verify"))
    .description(
      "proof that nothing was altered and that every stored number can be computed again from what is stored",
    )
    .action(async (options: InOption) => {
      const shown = process.stderr.isTTY;
      const answer = await within(
        options,
        (notebook) =>
          verifyNotebook(notebook, decodeFrame, (done) => {
            if (shown) process.stderr.write(`\r\x1b[K${done} entries`);
          }),
        true,
      );
      if (shown) process.stderr.write("\r\x1b[K");
      print(options.json === true ? toJson(answer) : verdictOf(answer));
      if (!answer.good)
        throw new BadNews(
          `${options.in}: not everything in this notebook is as it was written or can be computed again.`,
        );
    });
}

function verdictOf(answer: Verification): string {
  const off = answer.verified.filter(({ state }) => state !== "same");
  const rows = off.map(({ uid, kind, state, differences, remark }) => {
    const [first] = differences;
    const how =
      first === undefined
        ? remark
        : `${differences.length} differ, first ${first.path}: ${JSON.stringify(first.stored)} stored, ${JSON.stringify(first.recomputed)} computed`;
    return `${state}: ${kind} ${uid.slice(0, 8)}, ${how}`;
  });
  return [
    ...answer.damage.map((fault) => `damage: ${fault}`),
    ...rows,
    table([
      ["entries", String(answer.entries)],
      ["files", String(answer.files)],
      ["entries computed again", String(answer.verified.length)],
      ["values compared", String(answer.compared)],
      ["values that differ", String(answer.verified.reduce((sum, each) => sum + each.differences.length, 0))],
    ]),
    answer.good
      ? "Everything is as it was written, and every stored number can be computed again."
      : "Not all is well.",
  ].join("\n");
}

function mendCommand(): Command {
  return inNotebook(new Command("mend"))
    .description("salvages a damaged notebook; what was damaged is set aside with a list of what is lost")
    .action((options: InOption) => {
      const done = mendNotebook(options.in);
      if (options.json === true) {
        print(toJson(done));
      } else if (done.setAside === "") {
        print(`Nothing to mend: ${done.kept} entries, all whole.`);
      } else {
        print(
          [
            ...done.found.map((fault) => `found: ${fault}`),
            ...done.lost.map(({ id, reason }) => `lost: entry ${id}, ${reason}`),
            `${done.kept} entries are kept, ${done.fromJournal} of them from the journal, ${done.lost.length} are lost.`,
            `The damaged files and the list are in ${done.setAside}.`,
          ].join("\n"),
        );
      }
      if (done.missingFiles.length > 0)
        throw new BadNews(
          `${options.in}: ${done.missingFiles.length} files that entries name are gone, first ${done.missingFiles[0]}.`,
        );
    });
}
