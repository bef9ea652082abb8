/**
 * The browser's memory of a bench. Every tab writes under a key of its own, so that two tabs never overwrite each other;
 * a new tab starts from what was saved last. The tab's name lives in `sessionStorage` and survives a reload.
 */
import { type Bench, benchFrom } from "./bench.ts";

const PREFIX = "crossprism bench ";
/** Benches kept of tabs that are gone. */
const KEPT = 6;

export interface Saved {
  readonly bench: Bench;
  /** milliseconds since 1970 */
  readonly savedAt: number;
}

export function saveBench(storage: Storage, tab: string, bench: Bench, now: number): void {
  storage.setItem(PREFIX + tab, JSON.stringify({ savedAt: now, bench }));
  const others = keys(storage)
    .filter((key) => key !== PREFIX + tab)
    .map((key) => ({ key, savedAt: read(storage, key)?.savedAt ?? 0 }))
    .sort((a, b) => b.savedAt - a.savedAt);
  for (const { key } of others.slice(KEPT)) storage.removeItem(key);
}

/** What this tab saved before it was reloaded. */
export function ownBench(storage: Storage, tab: string): Saved | undefined {
  return read(storage, PREFIX + tab);
}

/** What any tab saved last. */
export function latestBench(storage: Storage): Saved | undefined {
  let latest: Saved | undefined;
  for (const key of keys(storage)) {
    const saved = read(storage, key);
    if (saved !== undefined && (latest === undefined || saved.savedAt > latest.savedAt)) latest = saved;
  }
  return latest;
}

function keys(storage: Storage): string[] {
  return Array.from({ length: storage.length }, (_, i) => storage.key(i) ?? "").filter((key) =>
    key.startsWith(PREFIX),
  );
}

function read(storage: Storage, key: string): Saved | undefined {
  const text = storage.getItem(key);
  if (text === null) return undefined;
  try {
    const json = JSON.parse(text) as { savedAt?: unknown; bench?: unknown };
    const bench = benchFrom(json.bench);
    return bench === undefined || typeof json.savedAt !== "number"
      ? undefined
      : { bench, savedAt: json.savedAt };
  } catch {
    // Written by an older page or cut short: treated as absent, and replaced by the next save of its tab.
    return undefined;
  }
}
