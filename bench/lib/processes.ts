/** What the processes of a browser started by this one use, from /proc: Linux only, nothing elsewhere. */
import { readdirSync, readFileSync } from "node:fs";

/** Clock ticks of /proc, per second: 100 on every Linux that runs Node.js. */
const TICKS = 100;
/** Bytes of a page of memory on x86-64. */
const PAGE = 4096;

/** Renderers of the browser: process numbers. */
function renderers(): readonly string[] {
  if (process.platform !== "linux") return [];
  const parents = new Map<string, string>();
  for (const pid of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    const stat = read(`/proc/${pid}/stat`);
    const parent = stat.slice(stat.lastIndexOf(")") + 2).split(" ")[1];
    if (parent !== undefined) parents.set(pid, parent);
  }
  const ours = (pid: string | undefined): boolean =>
    pid === String(process.pid) || (pid !== undefined && ours(parents.get(pid)));
  return [...parents.keys()].filter(
    (pid) => read(`/proc/${pid}/cmdline`).includes("--type=renderer") && ours(pid),
  );
}

export interface Cpu {
  /** the page's own thread, its worker threads, and all threads of the renderers */
  readonly page: number;
  readonly worker: number;
  readonly all: number;
}

/** CPU seconds that the renderers have used so far: unlike the time on the wall, it hardly grows while other programs hold the processor. */
export function cpuOfRenderers(): Cpu {
  const used = { page: 0, worker: 0, all: 0 };
  for (const pid of renderers()) {
    for (const tid of list(`/proc/${pid}/task`)) {
      const stat = read(`/proc/${pid}/task/${tid}/stat`);
      const name = stat.slice(stat.indexOf("(") + 1, stat.lastIndexOf(")"));
      const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
      const seconds = (Number(fields[11] ?? 0) + Number(fields[12] ?? 0)) / TICKS;
      used.all += seconds;
      if (tid === pid) used.page += seconds;
      else if (name.startsWith("DedicatedWorker")) used.worker += seconds;
    }
  }
  return used;
}

/** Memory that the renderers hold, bytes. */
export function memoryOfRenderers(): number {
  let bytes = 0;
  for (const pid of renderers()) bytes += Number(read(`/proc/${pid}/statm`).split(" ")[1] ?? 0) * PAGE;
  return bytes;
}

/** Text of a file of /proc; empty where the process has ended meanwhile. */
function read(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return "";
  }
}

function list(path: string): readonly string[] {
  try {
    return readdirSync(path);
  } catch {
    return [];
  }
}
