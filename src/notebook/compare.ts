/** Stored numbers against recomputed ones. */

import { isObject, type Json } from "../setup/index.ts";

export interface Difference {
  /** where, e.g. "columnGradient.value" */
  readonly path: string;
  readonly stored: Json;
  readonly recomputed: Json;
  /** |recomputed − stored| over the larger; null where they are no numbers */
  readonly relative: number | null;
}

export interface Comparison {
  /** numbers, words and flags compared */
  readonly compared: number;
  /** all that is not equal to the last bit */
  readonly differences: readonly Difference[];
}

/** Compares all leaves; what one side lacks is a difference with null on that side. */
export function compare(stored: Json, recomputed: Json): Comparison {
  const differences: Difference[] = [];
  let compared = 0;
  const walk = (a: Json | undefined, b: Json | undefined, path: string): void => {
    if (isBranch(a) && isBranch(b)) {
      const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
      for (const key of keys) walk(childOf(a, key), childOf(b, key), path === "" ? key : `${path}.${key}`);
      return;
    }
    compared += 1;
    if (a === b) return;
    const relative =
      typeof a === "number" && typeof b === "number"
        ? Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b))
        : null;
    differences.push({ path, stored: a ?? null, recomputed: b ?? null, relative });
  };
  walk(stored, recomputed, "");
  return { compared, differences };
}

type Branch = { readonly [key: string]: Json } | readonly Json[];

function isBranch(value: Json | undefined): value is Branch {
  return isObject(value) || Array.isArray(value);
}

function childOf(branch: Branch, key: string): Json | undefined {
  if (isObject(branch)) return Object.hasOwn(branch, key) ? branch[key] : undefined;
  return branch[Number(key)];
}
