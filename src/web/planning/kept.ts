/** What a person ticks and writes during the day, kept in the browser under the setup's fingerprint. */
import { type Accessor, createSignal } from "solid-js";

const PREFIX = "crossprism day ";
/** Setups whose day is kept. */
const KEPT = 6;

export interface Kept<T> {
  readonly value: Accessor<T>;
  put(part: Partial<T>): void;
}

interface Stored<T> {
  readonly savedAt: number;
  readonly held: T;
}

/**
 * @param leaf "sheet" or "heat"
 * @param setup fingerprint
 * @param read checks what was stored; undefined where it is nothing that this page wrote
 */
export function createKept<T>(
  storage: Storage | undefined,
  leaf: string,
  setup: string,
  first: T,
  read: (json: unknown) => T | undefined,
): Kept<T> {
  const key = `${PREFIX}${leaf} ${setup}`;
  const [value, setValue] = createSignal<T>(stored(storage, key, read) ?? first);
  return {
    value,
    put(part) {
      const held = { ...value(), ...part };
      setValue(() => held);
      if (storage === undefined) return;
      try {
        storage.setItem(key, JSON.stringify({ savedAt: Date.now(), held } satisfies Stored<T>));
        forgetOldest(storage, `${PREFIX}${leaf} `, key);
      } catch {
        // The browser's store is full: what was written stays on the page, and is not kept.
      }
    },
  };
}

function stored<T>(
  storage: Storage | undefined,
  key: string,
  read: (json: unknown) => T | undefined,
): T | undefined {
  const text = storage?.getItem(key);
  if (text === null || text === undefined) return undefined;
  try {
    return read((JSON.parse(text) as { held?: unknown }).held);
  } catch {
    return undefined;
  }
}

function forgetOldest(storage: Storage, prefix: string, own: string): void {
  const others: { key: string; savedAt: number }[] = [];
  for (let i = 0; i < storage.length; i++) {
    const key = storage.key(i);
    if (key === null || key === own || !key.startsWith(prefix)) continue;
    const savedAt = /"savedAt":(\d+)/.exec(storage.getItem(key) ?? "")?.[1];
    others.push({ key, savedAt: Number(savedAt ?? 0) });
  }
  others.sort((a, b) => b.savedAt - a.savedAt);
  for (const { key } of others.slice(KEPT - 1)) storage.removeItem(key);
}

export function isRecord(json: unknown): json is { readonly [key: string]: unknown } {
  return typeof json === "object" && json !== null && !Array.isArray(json);
}
