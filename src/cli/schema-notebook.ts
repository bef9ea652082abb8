/** JSON Schemas of what the notebook's commands print with --json. */

import { z } from "zod";
import { ENTRY_KINDS } from "../notebook/index.ts";

const uid = z.string().meta({ description: "32 hex digits, the same in every notebook" });

const entry = z.object({
  id: z.number().int().meta({ description: "number in this notebook" }),
  uid,
  kind: z.enum(ENTRY_KINDS),
  at: z.string().meta({ description: "when it happened, ISO 8601, UTC" }),
  recorded: z.string().meta({ description: "when it was written down" }),
  by: z.string(),
  title: z.string(),
  text: z.string(),
  element: z.string().meta({ description: "symbol of the metal, or empty" }),
  body: z.record(z.string(), z.unknown()).meta({ description: "what belongs to the kind; SI units" }),
  links: z.array(z.object({ role: z.string(), to: uid })),
  files: z.array(
    z.object({
      part: z.string(),
      sha256: z.string(),
      name: z.string(),
      media: z.string(),
      bytes: z.number().int(),
    }),
  ),
  correctedBy: z.array(uid),
});

const difference = z.object({
  path: z.string(),
  stored: z.unknown(),
  recomputed: z.unknown(),
  relative: z.number().nullable(),
});

export const NOTEBOOK_OUTPUTS = {
  "notebook-entry": entry,
  "notebook-list": z.object({
    entries: z.array(entry).meta({ description: "newest first" }),
    next: z.number().int().nullable().meta({ description: "give it with --before for what follows" }),
  }),
  "notebook-verify": z.object({
    entries: z.number().int(),
    files: z.number().int(),
    damage: z.array(z.string()),
    verified: z.array(
      z.object({
        uid,
        kind: z.enum(ENTRY_KINDS),
        title: z.string(),
        state: z.enum(["same", "close", "different", "impossible"]).meta({
          description:
            "same to the last bit; close within 1e-9; impossible where it cannot be computed again",
        }),
        compared: z.number().int(),
        differences: z.array(difference),
        remark: z.string(),
      }),
    ),
    compared: z.number().int(),
    good: z.boolean(),
  }),
  "notebook-export": z.object({ entries: z.number().int(), files: z.number().int() }),
  "notebook-import": z.object({ entries: z.number().int(), added: z.number().int() }),
  "notebook-mend": z.object({
    found: z.array(z.string()),
    kept: z.number().int(),
    fromJournal: z.number().int(),
    lost: z.array(z.object({ id: z.number().int(), uid: z.string(), reason: z.string() })),
    missingFiles: z.array(z.string()),
    setAside: z.string(),
  }),
} as const;
