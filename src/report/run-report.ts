/** The report of one run: setup, log, pictures side by side, readings with budgets, published values, cautions, origins. */
import type { Entry, ReadingBody } from "../notebook/contract.ts";
import type { PathInput } from "../path/index.ts";
import type { Frame } from "../picture/index.ts";
import { cautionsFor } from "../plan/index.ts";
import { lineById } from "../reference/index.ts";
import type { Measured, Reading } from "../reading/index.ts";
import { type JsonObject, leaves, type Setup } from "../setup/index.ts";
import { benchDistances } from "./bench-figure.ts";
import { averagedBy, cell, equation, numberCell, numberOf, page, pictureAddress, table } from "./page.ts";
import { escaped } from "./svg.ts";
import { WORDS } from "./words.en.ts";

export interface ReportedReading {
  readonly entry: Entry;
  /** the photograph that was read */
  readonly hot: Frame;
}

export interface RunReportInput {
  readonly run: Entry;
  /** the setup that the run was started with */
  readonly setupEntry: Entry;
  readonly document: JsonObject;
  readonly setup: Setup;
  /** all entries of the run, oldest first */
  readonly entries: readonly Entry[];
  /** its readings that nothing corrects, oldest first */
  readonly readings: readonly ReportedReading[];
  /** what the setup foretells */
  readonly predicted: Frame;
  /** the bench as an SVG document */
  readonly bench: string;
}

type Kept = Omit<Reading, "curve" | "mask" | "residual" | "trace">;

const W = WORDS.run;
const UNITS = {
  columnGradient: "m⁻³",
  columnDensity: "m⁻²",
  lineSeparation: "m",
  fRatio: "1",
  tilt: "rad",
} as const;
type Quantity = keyof typeof UNITS;
const QUANTITIES = Object.keys(UNITS) as readonly Quantity[];

/** A whole HTML document; every number in it that the notebook holds stands whole in the attribute `value`. */
export function runReportHtml(input: RunReportInput): string {
  const { run, setupEntry, setup, readings } = input;
  const title = W.title(run.title);
  return page(
    title,
    [
      `<h1>${escaped(title)}</h1>`,
      `<p>${escaped([run.at, run.by, setupEntry.title].filter((part) => part !== "").join(", "))}</p>`,
      ...(run.text === "" ? [] : [`<p>${escaped(run.text)}</p>`]),
      heading(W.setup),
      `<figure>${input.bench}</figure>`,
      distancesTable(setup.path, setup.vessel),
      fieldsTable(input.document),
      logTable(input.entries),
      ...(readings.length === 0
        ? [heading(W.pictures), figures(input.predicted, undefined), `<p>${escaped(W.noReading)}</p>`]
        : readings.flatMap((reading) => readingPart(reading, input.predicted))),
      cautions(setup),
    ].join("\n"),
  );
}

function heading(text: string): string {
  return `<h2>${escaped(text)}</h2>`;
}

function distancesTable(path: PathInput, vessel: Setup["vessel"]): string {
  const { element, from, next, length } = W.columns;
  const rows = benchDistances(path, vessel).map((each, i) => [
    cell(each.name),
    numberCell(each.from * 1e3, `distance.${i}.from`),
    each.next === null ? cell("") : numberCell(each.next * 1e3, `distance.${i}.next`),
    numberCell(each.length * 1e3, `distance.${i}.length`),
  ]);
  return table(W.distances, [element, from, next, length], rows);
}

function fieldsTable(document: JsonObject): string {
  const rows = leaves(document).map(({ path, value }) => [
    cell(path),
    cell(typeof value === "string" ? value : JSON.stringify(value)),
  ]);
  return table(W.fields, [W.columns.field, W.columns.value], rows);
}

function logTable(entries: readonly Entry[]): string {
  const shown = entries.filter(({ kind }) => kind !== "run" && kind !== "report");
  if (shown.length === 0) return "";
  const rows = shown.map((entry) => [
    cell(entry.at),
    cell(
      [
        `${entry.id}: ${entry.kind}`,
        entry.title,
        entry.text,
        entry.by,
        entry.correctedBy.length > 0 ? W.corrected : "",
      ]
        .filter((part) => part !== "")
        .join("; "),
    ),
  ]);
  return heading(W.log) + table(W.log, [W.columns.time, W.columns.what], rows);
}

function figures(predicted: Frame, photographed: Frame | undefined): string {
  const one = (frame: Frame, words: string): string =>
    `<figure><img src="${pictureAddress(frame)}" alt="${escaped(words)}"><figcaption>${escaped(words)}</figcaption></figure>`;
  const second = photographed === undefined ? "" : one(photographed, W.photographed);
  return `<div class="pair">${one(predicted, W.predicted)}${second}</div><p><small>${escaped(W.tone(averagedBy(predicted.columns)))}</small></p>`;
}

function readingPart({ entry, hot }: ReportedReading, predicted: Frame): string[] {
  const body = entry.body as unknown as ReadingBody;
  const kept = body.result as unknown as Kept;
  const of = (name: string): string => `${entry.uid}.${name}`;
  const { columns } = W;
  const values = QUANTITIES.map((name) => {
    const measured: Measured | null = kept[name];
    const what = cell(W.quantities[name]);
    if (measured === null) return [what, cell(W.none), cell(""), cell(""), cell("")];
    return [
      what,
      numberCell(measured.value, of(`${name}.value`)),
      numberCell(measured.standardUncertainty, of(`${name}.standardUncertainty`), 2),
      numberCell(measured.combinedUncertainty, of(`${name}.combinedUncertainty`), 2),
      cell(UNITS[name]),
    ];
  });
  const measured = QUANTITIES.filter((name) => kept[name] !== null);
  const budget = kept.budget.map((line, i) => [
    cell(line.cause),
    cell(line.kind),
    ...measured.map((name) => numberCell(line[name], of(`budget.${i}.${name}`), 2)),
  ]);
  return [
    heading(`${W.pictures}, ${entry.title}`),
    figures(predicted, hot),
    heading(`${W.reading} ${entry.id}`),
    `<p>${escaped(`${kept.verdict.code}: ${kept.verdict.text}`)}</p>`,
    table(W.reading, [columns.quantity, columns.value, columns.noise, columns.all, columns.unit], values),
    table(
      W.budget,
      [columns.cause, columns.kind, ...measured.map((name) => `${name}, ${UNITS[name]}`)],
      budget,
    ),
    publishedPart(kept, of),
    sentences(W.mind, kept.warnings),
    originPart(entry, body, kept),
  ];
}

function sentences(title: string, list: readonly string[]): string {
  if (list.length === 0) return "";
  return `<h3>${escaped(title)}</h3><ul>${list.map((each) => `<li>${escaped(each)}</li>`).join("")}</ul>`;
}

function publishedPart(kept: Kept, of: (name: string) => string): string {
  const { columns } = W;
  const rows = kept.lineColumns.map(({ line }) => {
    const { wavelength, oscillatorStrength, alternatives } = lineById(line);
    return [
      cell(line),
      numberCell(wavelength * 1e9, of(`published.${line}.wavelength`), 7),
      numberCell(oscillatorStrength, of(`published.${line}.f`)),
      cell(`${alternatives[0].source} (${alternatives[0].origin})`),
    ];
  });
  const lines = table(
    W.published,
    [columns.line, columns.wavelength, columns.strength, columns.source],
    rows,
  );
  const { publishedRatio } = kept.derived;
  if (publishedRatio === null || kept.fRatio === null)
    return `${heading(W.published)}${lines}<p>${escaped(W.oneLine)}</p>`;
  const head = [columns.quantity, columns.measured, columns.all, columns.publishedValue, columns.deviation];
  const row = [
    cell(W.quantities.fRatio),
    numberCell(kept.fRatio.value, of("ratio.measured")),
    numberCell(kept.fRatio.combinedUncertainty, of("ratio.uncertainty"), 2),
    numberCell(publishedRatio.published, of("derived.publishedRatio.published")),
    numberCell(publishedRatio.deviation, of("derived.publishedRatio.deviation"), 2),
  ];
  return heading(W.published) + lines + table(W.quantities.fRatio, head, [row]);
}

const EQUATIONS = [
  String.raw`n(\lambda) - 1 = \frac{r_e N}{2\pi} \sum_i f_i \frac{\lambda_i^2 \lambda^2}{\lambda^2 - \lambda_i^2}`,
  String.raw`\theta(\lambda) = \int \frac{\partial n}{\partial y}\, dz = \frac{n - 1}{N} \int \frac{\partial N}{\partial y}\, dz`,
  String.raw`T(\lambda) = \exp\left(-\sigma(\lambda) \int N\, dz\right)`,
  String.raw`\sum_i f_i \frac{\lambda_i^2 \lambda_z^2}{\lambda_z^2 - \lambda_i^2} = 0`,
] as const;

function originPart(entry: Entry, body: ReadingBody, kept: Kept): string {
  const { program, data, setup, seed, pictures } = body.provenance;
  const how = W.how.map((words, i) => `<p>${escaped(words)}</p>${equation(EQUATIONS[i])}`).join("");
  const rows = Object.entries(pictures).map(([role, digest]) => [cell(role), cell(digest)]);
  return [
    heading(W.origin),
    how,
    sentences(W.assumed, kept.assumptions),
    `<p>${escaped(`${W.provenance}: crossprism ${program}, data ${data}, setup ${setup}, entry ${entry.uid}, seed`)} ${numberOf(seed, `${entry.uid}.provenance.seed`)}.</p>`,
    table(W.provenance, [W.columns.pictureRole, W.columns.digest], rows),
  ].join("\n");
}

function cautions(setup: Setup): string {
  const list = cautionsFor(setup).map(
    ({ level, sentence, source }) =>
      `<li><span class="${level}">${escaped(sentence)}</span> <small class="source">${escaped(source)}</small></li>`,
  );
  return `${heading(W.cautions)}<p>${escaped(W.defer)}</p><ul>${list.join("")}</ul>`;
}
