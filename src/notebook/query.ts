/** A query as SQL. */

import { Refusal } from "../quantity/index.ts";
import { ENTRY_KINDS, type NotebookQuery } from "./contract.ts";
import { timeOf } from "./record.ts";
import type { EntryRow, Prepare } from "./rows.ts";

const USUAL_LIMIT = 50;
const MOST = 1000;

/** @param run number of the run that entries must belong to */
export function queryRows(
  prepare: Prepare,
  query: NotebookQuery,
  run: number | undefined,
): { readonly rows: readonly EntryRow[]; readonly next: number | null } {
  const limit = query.limit ?? USUAL_LIMIT;
  if (!Number.isInteger(limit) || limit < 1 || limit > MOST) throw badLimit(limit);
  const conditions: string[] = [];
  const values: (string | number)[] = [];
  const want = (condition: string, ...given: (string | number)[]): void => {
    conditions.push(condition);
    values.push(...given);
  };
  if (query.kinds !== undefined && query.kinds.length > 0) {
    const unknown = query.kinds.find((kind) => !ENTRY_KINDS.includes(kind));
    if (unknown !== undefined) throw badKind(unknown);
    want(`e.kind IN (${query.kinds.map(() => "?").join(", ")})`, ...query.kinds);
  }
  if (query.element !== undefined) want("e.element = ?", query.element);
  if (query.from !== undefined) want("e.at >= ?", timeOf(query.from, "from"));
  if (query.to !== undefined) want("e.at <= ?", endOf(query.to));
  if (run !== undefined) {
    want(
      "(e.id = ? OR EXISTS (SELECT 1 FROM link WHERE link.entry = e.id AND link.role = 'run' AND link.target = ?))",
      run,
      run,
    );
  }
  if (query.before !== undefined) want("e.id < ?", query.before);
  const { words = "", number } = query;
  let from = "entry AS e";
  let driven: (string | number)[] = [];
  const range =
    number === undefined
      ? undefined
      : ([number.name, number.least ?? -Number.MAX_VALUE, number.most ?? Number.MAX_VALUE] as const);
  if (words.trim() !== "") {
    // The words' own index gives entries newest first, so that the first page is found without the rest.
    from = "words AS w CROSS JOIN entry AS e ON e.id = w.rowid";
    conditions.unshift("w.words MATCH ?");
    driven = [matchOf(words)];
    if (range !== undefined) want(HAS_NUMBER, ...range);
  } else if (range !== undefined && isRare(prepare, range)) {
    from = "number AS n CROSS JOIN entry AS e ON e.id = n.entry";
    conditions.unshift("n.name = ? AND n.value BETWEEN ? AND ?");
    driven = [...range];
  } else if (range !== undefined) {
    want(HAS_NUMBER, ...range);
  }
  const where = conditions.length === 0 ? "" : `WHERE ${conditions.join(" AND ")}`;
  const order = words.trim() === "" ? "e.id" : "w.rowid";
  // Numbers first and whole entries after, so that what is sorted is small.
  const rows = prepare(
    `SELECT * FROM entry WHERE id IN (SELECT e.id FROM ${from} ${where} ORDER BY ${order} DESC LIMIT ?) ORDER BY id DESC`,
  ).all(...driven, ...values, limit + 1) as EntryRow[];
  const shown = rows.slice(0, limit);
  return { rows: shown, next: rows.length > limit ? shown[shown.length - 1].id : null };
}

/** Each word in quotes, so that nothing in it is taken for an operator; a star at its end finds its beginnings. */
function matchOf(words: string): string {
  return words
    .trim()
    .split(/\s+/)
    .map((word) => {
      const start = word.endsWith("*");
      const plain = (start ? word.slice(0, -1) : word).replaceAll('"', '""');
      return `"${plain}"${start ? "*" : ""}`;
    })
    .join(" ");
}

/** Up to so many entries a number's own index leads the search; beyond, entries are gone through newest first. */
const RARE = 3000;
const HAS_NUMBER =
  "EXISTS (SELECT 1 FROM number AS n INDEXED BY number_by_entry WHERE n.entry = e.id AND n.name = ? AND n.value BETWEEN ? AND ?)";

function isRare(prepare: Prepare, range: readonly [name: string, least: number, most: number]): boolean {
  const few = prepare(
    "SELECT count(*) FROM (SELECT 1 FROM number WHERE name = ? AND value BETWEEN ? AND ? LIMIT ?)",
  )
    .pluck()
    .get(...range, RARE) as number;
  return few < RARE;
}

/** A date alone means the whole day. */
function endOf(text: string): string {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) ? timeOf(`${text}T23:59:59.999Z`, "to") : timeOf(text, "to");
}

function badLimit(limit: number): Refusal {
  return new Refusal({
    code: "bad-limit",
    field: "limit",
    received: String(limit),
    expected: `a whole number from 1 to ${MOST}`,
  });
}

function badKind(kind: string): Refusal {
  return new Refusal({
    code: "unknown-kind",
    field: "kind",
    received: JSON.stringify(kind),
    expected: `one of ${ENTRY_KINDS.join(", ")}`,
  });
}
