import { existsSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

/** Root of the checkout, absolute. */
export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");

/** Absolute path of something in the checkout. @param {string[]} parts */
export const at = (...parts) => join(root, ...parts);

/**
 * Rooms that a program may import by name, in the order of the import rule.
 * A room counts once it has an index.ts; package.json's "exports" must list exactly these.
 */
export const libraryRooms = [
  "quantity",
  "reference",
  "numerics",
  "medium",
  "vessel",
  "path",
  "picture",
  "setup",
  "reading",
  "plan",
  "words",
  "notebook",
  "report",
].filter((room) => existsSync(at("src", room, "index.ts")));
