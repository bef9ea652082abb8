/**
 * What a notebook holds and what the local server says about it: types and a few words, nothing of Node.js, so that the
 * page may import it. Times are ISO 8601 in UTC, quantities SI, wavelengths vacuum wavelengths in metres.
 */
import type { JsonObject } from "../setup/index.ts";

export const ENTRY_KINDS = [
  "setup",
  "run",
  "temperatures",
  "remark",
  "picture",
  "reading",
  "forecast",
  "plan",
  "report",
] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** What a picture shows; "film" and "other" are kept but not read. */
export const PICTURE_ROLES = ["hot", "cold", "lamp", "dark", "film", "other"] as const;
export type PictureRole = (typeof PICTURE_ROLES)[number];

/**
 * Why one entry points to another: "run" (belongs to), "setup" (was made with), "previous" (version before), a role of
 * a picture (was read from), "reading" (a report tells of), "corrects" (stands in place of; the old one stays).
 */
export const LINK_ROLES = ["run", "setup", "previous", "reading", "corrects", ...PICTURE_ROLES] as const;
export type LinkRole = (typeof LINK_ROLES)[number];

export interface EntryLink {
  readonly role: LinkRole;
  /** uid of the entry pointed to */
  readonly to: string;
}

/** A file of an entry, kept with its original bytes under its SHA-256. */
export interface EntryFile {
  /** what the file is to the entry, e.g. "original", "page" */
  readonly part: string;
  /** 64 hex digits */
  readonly sha256: string;
  /** name it came with */
  readonly name: string;
  /** media type told from its first bytes, e.g. "image/png" */
  readonly media: string;
  /** size, bytes */
  readonly bytes: number;
}

export interface Entry {
  /** number in this notebook, counted from 1; another notebook may number the same entry otherwise */
  readonly id: number;
  /** name for life, the same in every notebook: 32 hex digits */
  readonly uid: string;
  readonly kind: EntryKind;
  /** when it happened */
  readonly at: string;
  /** when it was written down */
  readonly recorded: string;
  /** who wrote it; "" where not said */
  readonly by: string;
  readonly title: string;
  /** remarks in plain words; "" for none */
  readonly text: string;
  /** symbol of the metal it is about; "" for none */
  readonly element: string;
  /** the kind's own content: SetupBody, TemperaturesBody, … */
  readonly body: JsonObject;
  readonly links: readonly EntryLink[];
  readonly files: readonly EntryFile[];
  /** uids of entries that correct this one, oldest first */
  readonly correctedBy: readonly string[];
}

export interface SetupBody {
  /** name under which its versions are kept */
  readonly name: string;
  /** 1 for the first */
  readonly version: number;
  /** fingerprint of the setup as read, 16 hex digits */
  readonly fingerprint: string;
  /** the setup file */
  readonly document: JsonObject;
}

export interface TemperaturesBody {
  /** place → K */
  readonly temperatures: Readonly<Record<string, number>>;
}

export interface PictureBody {
  readonly role: PictureRole;
  /** s; null where not known */
  readonly exposure: number | null;
  /** whatever else is known of how it was taken, e.g. settings of a camera */
  readonly details: JsonObject;
}

/** What a stored number came from: enough to make it again. */
export interface NumberProvenance {
  /** version of the program */
  readonly program: string;
  /** fingerprint of all published data the program was built with, 16 hex digits */
  readonly data: string;
  /** fingerprint of the setup, 16 hex digits */
  readonly setup: string;
  readonly seed: number;
  /** SHA-256 of each picture it was taken from, by role */
  readonly pictures: Readonly<Record<string, string>>;
}

export interface ReadingBody {
  readonly options: JsonObject;
  /** names of lamp lines as a person gives them; "" for none */
  readonly lampLines: string;
  /** the reading without its per-pixel parts (curve, trace, mask), which follow from the same input */
  readonly result: JsonObject;
  readonly provenance: NumberProvenance;
}

export interface ForecastBody {
  readonly cold: boolean;
  readonly result: JsonObject;
  readonly provenance: NumberProvenance;
}

export interface PlanBody {
  /** cautions, verdict, heating table: the run sheet without its drawings */
  readonly result: JsonObject;
  readonly provenance: NumberProvenance;
}

/** What to look for; all that is given must hold. */
export interface NotebookQuery {
  readonly kinds?: readonly EntryKind[];
  /** words, all of which occur in title, text or author; a word may end in * */
  readonly words?: string;
  readonly element?: string;
  /** from this time on, ISO date or time */
  readonly from?: string;
  /** up to this time; a date alone means to its end */
  readonly to?: string;
  /** a stored number between two ends, e.g. { name: "columnGradient", least: -3e21, most: -1e21 } */
  readonly number?: { readonly name: string; readonly least?: number; readonly most?: number };
  /** entries of this run: its uid or number */
  readonly run?: string;
  /** how many at most, 1…1000, default 50 */
  readonly limit?: number;
  /** only entries with a smaller number: the next page */
  readonly before?: number;
}

export interface NotebookPage {
  /** newest first */
  readonly entries: readonly Entry[];
  /** pass as `before` for the next page; null where this is the last */
  readonly next: number | null;
}

export interface NotebookSummary {
  readonly name: string;
  readonly entries: number;
  readonly pictures: number;
  readonly runs: number;
}

/** Why the server said no: `refusal` as everywhere in the program, in one sentence in `message`. */
export interface NotebookNo {
  readonly message: string;
}

/**
 * The local server, where it was started with a notebook. All answers are JSON but for the bytes of files; an error
 * answers with 4xx or 5xx and NotebookNo. Without a notebook every address answers 404.
 *
 *   GET  /api/notebook                      → NotebookSummary
 *   GET  /api/notebook/entries?kind=&words=&element=&from=&to=&number=&least=&most=&run=&limit=&before=
 *                                           → NotebookPage; `kind` may be repeated
 *   GET  /api/notebook/entries/REF          → Entry; REF is a uid, its beginning, or a number
 *   GET  /api/notebook/files/SHA256         → the bytes as they came, with their media type
 *   POST /api/notebook/pictures?role=hot&name=a.png&run=&text=&exposure=&at=&by=    body: the bytes → Entry
 *   POST /api/notebook/setups               NewSetup        → Entry
 *   POST /api/notebook/runs                 NewRun          → Entry
 *   POST /api/notebook/temperatures         NewTemperatures → Entry
 *   POST /api/notebook/remarks              NewRemark       → Entry
 *   POST /api/notebook/readings             NewReading      → Entry: the server reads the stored bytes itself, so that
 *                                             what stands in the notebook can be recomputed from what stands in it
 *
 * A POST needs an Origin that is the server itself, and content type application/json or, for pictures,
 * application/octet-stream or the picture's own type.
 */
export const NOTEBOOK_API = "/api/notebook";

/** What may be said beside any new entry. */
export interface NewCommon {
  /** when it happened; now where not given */
  readonly at?: string;
  readonly by?: string;
  readonly text?: string;
  /** reference to an entry that this one stands in place of */
  readonly corrects?: string;
}

export interface NewSetup extends NewCommon {
  readonly document: JsonObject;
  /** name under which versions are kept; the setup's title where not given */
  readonly name?: string;
}

export interface NewRun extends NewCommon {
  readonly title: string;
  /** reference to the setup it is run with */
  readonly setup: string;
}

export interface NewTemperatures extends NewCommon {
  readonly run: string;
  /** place → text with unit ("290 degC") or number in K */
  readonly temperatures: Readonly<Record<string, string | number>>;
}

export interface NewRemark extends NewCommon {
  readonly text: string;
  readonly title?: string;
  readonly run?: string;
}

export interface NewPicture extends NewCommon {
  readonly role: PictureRole;
  readonly name: string;
  readonly run?: string;
  readonly exposure?: number;
  readonly details?: JsonObject;
}

export interface NewReading extends NewCommon {
  /** the run's where not given */
  readonly setup?: string;
  readonly hot: string;
  readonly cold?: string;
  readonly lamp?: string;
  readonly dark?: string;
  readonly lampLines?: string;
  readonly options?: { readonly selfBroadening?: "local" | "middle"; readonly beamHeights?: number };
  readonly run?: string;
}
