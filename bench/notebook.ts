/**
 * A large notebook measured: a hundred thousand entries and ten thousand pictures (invented), opened, searched and added to.
 *
 *   node --import tsx bench/notebook.ts [ENTRIES] [PICTURES]        default 100000 10000
 *
 * Each time is the best and the middle of several, by the clock; on a shared machine the best is worth most.
 */
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import {
  addRemark,
  addSetup,
  type Entry,
  Notebook,
  type NotebookQuery,
  startRun,
} from "../src/notebook/index.ts";
import { newUid, type EntryRecord } from "../src/notebook/record.ts";

const [entries, pictures] = [Number(process.argv[2] ?? 100_000), Number(process.argv[3] ?? 10_000)];
const folder = mkdtempSync(join(tmpdir(), "notebook-bench-"));
const place = join(folder, "notebook");
console.log(
  `${cpus().length} cores, ${cpus()[0]?.model ?? "unknown"}, Node ${process.version}, load ${loadavg()[0].toFixed(1)}`,
);

const METALS = ["Na", "K", "Rb", "Cs", "Sr", "Ba", "Ca"];
const WORDS =
  "flicker gap curve slit window argon lamp bottom top leans steady focus hooks doublet haze clear".split(
    " ",
  );
const started = Date.UTC(2020, 0, 1);

/** Entry i of a run, as the commands would have made it. */
function record(i: number, notebook: Notebook, run: Entry): EntryRecord {
  const at = new Date(started + i * 1_800_000).toISOString();
  const word = (k: number): string => WORDS[(i * 7 + k * k * 13) % WORDS.length];
  const common = { uid: newUid(), at, recorded: at, by: `student ${i % 30}`, element: METALS[i % 7] };
  const links = [{ role: "run", to: run.uid }] as const;
  if (i % Math.round(entries / pictures) === 0) {
    const bytes = Buffer.alloc(4096, `picture ${i} `);
    const { sha256, media } = notebook.keepFile(bytes);
    const file = { part: "original", sha256, media, name: `IMG_${i}.png`, bytes: bytes.length };
    const body = { role: "hot", exposure: 0.02, details: {} };
    return {
      ...common,
      kind: "picture",
      title: `hot: IMG_${i}.png`,
      text: word(1),
      body,
      links,
      files: [file],
    };
  }
  if (i % 10 === 1) {
    const value = -1e21 * (1 + (i % 1000) / 500);
    const body = {
      options: {},
      lampLines: "",
      result: {
        columnGradient: { value, standardUncertainty: 1e19 },
        fRatio: { value: 2 + (i % 97) / 1000 },
      },
    };
    return { ...common, kind: "reading", title: `reading of IMG_${i}.png`, text: "", body, links, files: [] };
  }
  if (i % 2 === 0) {
    const body = { temperatures: { bottom: 500 + (i % 200), top: 400 } };
    return { ...common, kind: "temperatures", title: "bottom, top", text: "", body, links, files: [] };
  }
  const text = `${word(1)} ${word(2)}, ${word(3)} ${word(4)} in the ${word(5)} at number${i}`;
  return { ...common, kind: "remark", title: text.slice(0, 40), text, body: {}, links, files: [] };
}

function timed(name: string, times: number, act: () => unknown): void {
  const taken = Array.from({ length: times }, () => {
    const start = performance.now();
    act();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  console.log(
    `${name.padEnd(58)} ${taken[0].toFixed(2).padStart(8)} ms at best ${taken[times >> 1].toFixed(2).padStart(8)} ms in the middle`,
  );
}

try {
  const start = performance.now();
  const filling = Notebook.create(place);
  const document = JSON.parse(
    readFileSync(new URL("../examples/strontium.json", import.meta.url), "utf8"),
  ) as Parameters<typeof addSetup>[1]["document"];
  const setup = addSetup(filling, { document });
  let run = startRun(filling, { title: "run 0", setup: setup.uid });
  for (let i = 0; i < entries; i += 1000) {
    if (i % 5000 === 0) run = startRun(filling, { title: `run ${i}`, setup: setup.uid });
    const some = Array.from({ length: Math.min(1000, entries - i) }, (_, k) => record(i + k, filling, run));
    filling.takeOver(some);
  }
  const { entries: count, pictures: kept } = filling.summary();
  filling.close();
  const size = statSync(join(place, "notebook.sqlite")).size / 1e6;
  console.log(
    `${count} entries, ${kept} pictures, database ${size.toFixed(0)} MB, filled in ${((performance.now() - start) / 1000).toFixed(0)} s`,
  );

  timed("open, newest 50 entries, close", 9, () => {
    const opened = Notebook.open(place);
    opened.find();
    opened.close();
  });
  const notebook = Notebook.open(place);
  const search = (name: string, query: NotebookQuery): void => {
    const { entries: found } = notebook.find(query);
    timed(`${name} (${found.length}${found.length === 50 ? ", first page" : ""})`, 15, () =>
      notebook.find(query),
    );
  };
  search("one word that is everywhere", { words: "slit" });
  search("two words", { words: "slit window" });
  search("one word of one entry", { words: "number77777" });
  search("beginning of a word", { words: "numb*" });
  search("words that are nowhere together", { words: "number11 number33" });
  search("a metal", { element: "Cs" });
  search("a metal and a word", { element: "Cs", words: "haze" });
  search("a day years ago", { from: "2021-06-01", to: "2021-06-01" });
  search("a year", { from: "2021-01-01", to: "2021-12-31" });
  search("a number between two ends, few", {
    number: { name: "columnGradient", least: -1.005e21, most: -1e21 },
  });
  search("a number between two ends, all", { number: { name: "columnGradient", most: 0 } });
  search("a number of many entries", { number: { name: "temperature.bottom", least: 500 } });
  search("all at once", {
    words: "IMG*",
    element: "K",
    from: "2021-01-01",
    number: { name: "exposure", least: 0.01 },
  });
  search("readings of a metal", { kinds: ["reading"], element: "Rb" });
  search("one run", { run: run.uid });
  search("pictures of one run", { run: run.uid, kinds: ["picture"] });
  search("a kind of which there is little, oldest page", { kinds: ["run"], before: 3000 });
  timed("add a remark", 25, () => addRemark(notebook, { text: "one more remark about the slit" }));
  notebook.close();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
