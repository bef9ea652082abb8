/**
 * Writes into a notebook until it is killed, and says each entry's name on stdout once the notebook has acknowledged it.
 *
 *   node notebook-writer.mjs MODULE FOLDER SEED        MODULE: the notebook room, built or as source
 */
import { writeSync } from "node:fs";

const [module, folder, seed] = process.argv.slice(2);
const { Notebook, addPicture, addRemark, addSetup, logTemperatures, startRun } = await import(module);

let state = Number(seed) >>> 0;
/** A number from 0 to 1; mulberry32. */
function random() {
  state = (state + 0x6d2b79f5) >>> 0;
  let t = Math.imul(state ^ (state >>> 15), state | 1);
  t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}

const document = JSON.parse(process.env.SETUP ?? "{}");
writeSync(1, "open\n");
const notebook = Notebook.openOrCreate(folder);
const say = (entry) => {
  writeSync(1, `${entry.uid}\n`);
  return entry;
};
const setup = say(addSetup(notebook, { document: { ...document, notes: `bench ${seed}` }, name: "kills" }));
let run = say(startRun(notebook, { title: `run ${seed}`, setup: setup.uid }));
let last;
for (;;) {
  const choice = random();
  if (choice < 0.4) {
    const corrects = last !== undefined && random() < 0.2 ? { corrects: last.uid } : {};
    last = say(
      addRemark(notebook, { text: `word ${random()} `.repeat(1 + 40 * random()), run: run.uid, ...corrects }),
    );
  } else if (choice < 0.6) {
    say(
      logTemperatures(notebook, { run: run.uid, temperatures: { bottom: 400 + 200 * random(), top: 350 } }),
    );
  } else if (choice < 0.9) {
    const bytes = new Uint8Array(1000 + Math.floor(300_000 * random() ** 3)).fill(256 * random());
    for (let i = 0; i < 16; i++) bytes[i] = 256 * random();
    say(addPicture(notebook, bytes, { role: "hot", name: "noise.bin", run: run.uid }));
  } else if (choice < 0.95) {
    say(addSetup(notebook, { document: { ...document, notes: `version ${random()}` }, name: "kills" }));
  } else {
    run = say(startRun(notebook, { title: `run ${random()}`, setup: setup.uid }));
  }
}
