/** The tables of the campaign of difficult pictures, as Markdown. */
import { TROUBLES } from "./cases.ts";
import type { Row } from "./rows.ts";

export function percent(v: number): string {
  return `${(100 * v).toFixed(Math.abs(v) < 0.1 ? 2 : 1)} %`;
}

type Sizes = (row: Row) => number;

/** The accuracy aimed at, and how an error is shown. */
const ANSWERS: readonly {
  readonly name: string;
  readonly error: Sizes;
  readonly aim: number;
  readonly show: (v: number) => string;
}[] = [
  { name: "column gradient", error: (r) => r.gradient, aim: 0.005, show: percent },
  { name: "column density", error: (r) => r.density, aim: 0.03, show: percent },
  {
    name: "line separation, with lamp",
    error: (r) => r.separation,
    aim: 2e-12,
    show: (v) => `${(v * 1e12).toFixed(2)} pm`,
  },
  { name: "strength ratio", error: (r) => r.ratio, aim: 0.01, show: percent },
  {
    name: "tilt",
    error: (r) => r.tilt,
    aim: (0.02 * Math.PI) / 180,
    show: (v) => `${((v * 180) / Math.PI).toFixed(4)}°`,
  },
];

/** A pull from which on a claimed uncertainty is plainly too small. */
const FAR = 3;

export function report(rows: readonly Row[]): string {
  const lines = [
    `${rows.length} pictures (${seedsOf(rows)}), read by ${new Date().toISOString().slice(0, 10)}: ${tally(rows, (r) => r.source)}. Outcomes: ${tally(rows, (r) => r.outcome)}. ${median(rows.map((r) => r.seconds)).toFixed(1)} s of processor a picture (median).`,
    "",
    ...byVerdict(rows),
    ...byKind("trouble", rows, (r) => r.trouble, TROUBLES),
    ...byKind("element", rows, (r) => r.element),
    ...byKind("drawn by", rows, (r) => r.source),
    ...worstTen(rows),
  ];
  return lines.join("\n");
}

function seedsOf(rows: readonly Row[]): string {
  const seeds = [...new Set(rows.map((r) => r.seed))].sort((a, b) => a - b);
  return `seed${seeds.length === 1 ? "" : "s"} ${seeds.join(", ")}`;
}

function tally(rows: readonly Row[], of: (row: Row) => string): string {
  const counts = new Map<string, number>();
  for (const row of rows) counts.set(of(row), (counts.get(of(row)) ?? 0) + 1);
  return [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([name, count]) => `${count} ${name}`)
    .join(", ");
}

function sizesOf(rows: readonly Row[], of: Sizes): number[] {
  return rows
    .map(of)
    .filter((v) => !Number.isNaN(v))
    .map(Math.abs)
    .sort((a, b) => a - b);
}

/** Sizes below which these shares of the list lie. */
function quantiles(
  sizes: readonly number[],
  shares: readonly number[],
  show: (v: number) => string,
): string[] {
  if (sizes.length === 0) return shares.map(() => "–");
  return shares.map((share) => show(sizes[Math.min(sizes.length - 1, Math.floor(share * sizes.length))]));
}

function median(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

function byVerdict(rows: readonly Row[]): string[] {
  const lines = [
    "| error, by verdict | read | 50 % | 68 % | 90 % | 95 % | worst | miss the aim |",
    "| --- | --- | --- | --- | --- | --- | --- | --- |",
  ];
  for (const verdict of ["good", "fair", "poor"]) {
    const list = rows.filter((r) => r.outcome === verdict);
    if (list.length === 0) continue;
    for (const { name, error, aim, show } of ANSWERS) {
      const sizes = sizesOf(list, error);
      const missed = sizes.filter((v) => v > aim).length;
      lines.push(
        `| ${verdict}: ${name} | ${sizes.length} | ${quantiles(sizes, [0.5, 0.68, 0.9, 0.95, 1], show).join(" | ")} | ${missed} over ${show(aim)} |`,
      );
    }
    for (const answer of ["gradient", "density"] as const) {
      const sizes = sizesOf(list, (r) => r.pulls[answer]);
      const far = sizes.filter((v) => v > FAR).length;
      lines.push(
        `| ${verdict}: ${answer}, in combined uncertainties | ${sizes.length} | ${quantiles(sizes, [0.5, 0.68, 0.9, 0.95, 1], (v) => v.toFixed(2)).join(" | ")} | ${far} over ${FAR} |`,
      );
    }
  }
  return [...lines, ""];
}

function byKind(
  title: string,
  rows: readonly Row[],
  of: (row: Row) => string,
  order: readonly string[] = [...new Set(rows.map(of))].sort(),
): string[] {
  const lines = [
    `| ${title} | pictures | not called good | gradient of the good: 50 / 90 % / worst | density of the good: 50 / 90 % / worst | good beyond ${FAR} combined uncertainties |`,
    "| --- | --- | --- | --- | --- | --- |",
  ];
  for (const kind of order) {
    const list = rows.filter((r) => of(r) === kind);
    if (list.length === 0) continue;
    const good = list.filter((r) => r.outcome === "good");
    const others = tally(
      list.filter((r) => r.outcome !== "good"),
      (r) => r.outcome,
    );
    const show = (error: Sizes): string =>
      quantiles(sizesOf(good, error), [0.5, 0.9, 1], percent).join(" / ");
    const far = good.filter(
      (r) => Math.abs(r.pulls.gradient) > FAR || Math.abs(r.pulls.density) > FAR,
    ).length;
    lines.push(
      `| ${kind} | ${list.length} | ${others === "" ? "–" : others} | ${show((r) => r.gradient)} | ${show((r) => r.density)} | ${far} |`,
    );
  }
  return [...lines, ""];
}

/** The ten farthest off among those called good or fair, by their error over the aim. */
function worstTen(rows: readonly Row[]): string[] {
  const size = (r: Row): number => Math.max(Math.abs(r.gradient) / 0.005, Math.abs(r.density) / 0.03);
  const list = rows.filter((r) => r.outcome === "good" || r.outcome === "fair");
  const worst = [...list].sort((a, b) => size(b) - size(a)).slice(0, 10);
  return [
    "| the ten farthest off, good or fair | verdict | gradient | density | in combined uncertainties |",
    "| --- | --- | --- | --- | --- |",
    ...worst.map(
      (r) =>
        `| ${r.source} ${r.seed}/${r.number}, ${r.element}, ${r.trouble} | ${r.outcome} | ${percent(r.gradient)} | ${percent(r.density)} | ${r.pulls.gradient.toFixed(1)} / ${r.pulls.density.toFixed(1)} |`,
    ),
    "",
  ];
}
