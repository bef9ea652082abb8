/** The report of one run: setup, log, pictures side by side, readings with budgets, published values, cautions, origins. */
import type { Entry, ReadingBody } from "../notebook/contract.ts";
import type { Frame } from "../picture/index.ts";
import { cautionsFor } from "../plan/index.ts";
import { lineById } from "../reference/index.ts";
import type { Measured, Reading } from "../reading/index.ts";
import { type JsonObject, leaves, type Setup } from "../setup/index.ts";
import { benchDistances } from "./bench-figure.ts";
import { measuredIndexFigure } from "./measured-index.ts";
import {
  averagedBy,
  cell,
  citation,
  countOf,
  equation,
  numberCell,
  page,
  pictureAddress,
  quoted,
  quotedCell,
  table,
  type TableCell,
  type Telling,
  timeHtml,
  written,
} from "./page.ts";
import { escaped } from "./svg.ts";

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
export function runReportHtml(input: RunReportInput, telling: Telling): string {
  const { run, setupEntry, setup, readings } = input;
  const W = telling.language.report;
  const title = W.title(run.title);
  const said = [run.by, setupEntry.title].filter((part) => part !== "").map(written);
  return page(
    title,
    [
      `<h1>${escaped(title)}</h1>`,
      `<p>${[timeHtml(telling, run.at), ...said].join(", ")}</p>`,
      ...(run.text === "" ? [] : [`<p>${written(run.text)}</p>`]),
      heading(W.setup),
      `<figure>${input.bench}</figure>`,
      distancesTable(setup, telling),
      fieldsTable(input.document, telling),
      logTable(input.entries, telling),
      ...(readings.length === 0
        ? [
            heading(W.pictures),
            figures(input.predicted, undefined, telling),
            `<p>${escaped(W.noReading)}</p>`,
          ]
        : readings.flatMap((reading) => readingPart(reading, input, telling))),
      cautions(setup, telling),
    ].join("\n"),
    telling,
  );
}

function heading(text: string): string {
  return `<h2>${escaped(text)}</h2>`;
}

function distancesTable({ path, vessel }: Setup, telling: Telling): string {
  const W = telling.language.report;
  const { element, from, next, length } = W.columns;
  const rows = benchDistances(path, vessel, telling.language.bench).map((each, i) => [
    cell(each.name),
    numberCell(telling, each.from * 1e3, `distance.${i}.from`),
    each.next === null ? cell("") : numberCell(telling, each.next * 1e3, `distance.${i}.next`),
    numberCell(telling, each.length * 1e3, `distance.${i}.length`),
  ]);
  return table(telling, W.distances, [element, from, next, length], rows);
}

function fieldsTable(document: JsonObject, telling: Telling): string {
  const W = telling.language.report;
  const rows = leaves(document).map(({ path, value }) => [
    codeCell(path),
    writtenCell(typeof value === "string" ? value : JSON.stringify(value)),
  ]);
  return table(telling, W.fields, [W.columns.field, W.columns.value], rows);
}

function codeCell(text: string): TableCell {
  return { html: `<code>${escaped(text)}</code>`, plain: text };
}

function citedCell(text: string): TableCell {
  return { html: citation(text), plain: text };
}

function writtenCell(text: string): TableCell {
  return { html: written(text), plain: text };
}

function logTable(entries: readonly Entry[], telling: Telling): string {
  const W = telling.language.report;
  const shown = entries.filter(({ kind }) => kind !== "run" && kind !== "report");
  if (shown.length === 0) return "";
  const rows = shown.map((entry) => {
    const kind = `${entry.id}: ${W.kinds[entry.kind]}`;
    const words = [entry.title, entry.text, entry.by].filter(
      (part, i, all) => part !== "" && all.indexOf(part) === i,
    );
    const end = entry.correctedBy.length > 0 ? [W.corrected] : [];
    return [
      { html: timeHtml(telling, entry.at), plain: entry.at },
      {
        html: [escaped(kind), ...words.map(written), ...end.map(escaped)].join("; "),
        plain: [kind, ...words, ...end].join("; "),
      },
    ];
  });
  return heading(W.log) + table(telling, W.log, [W.columns.time, W.columns.what], rows, false);
}

function figures(predicted: Frame, photographed: Frame | undefined, telling: Telling): string {
  const W = telling.language.report;
  const one = (frame: Frame, words: string): string =>
    `<figure><img src="${pictureAddress(frame)}" alt="${escaped(words)}"><figcaption>${escaped(words)}</figcaption></figure>`;
  const second = photographed === undefined ? "" : one(photographed, W.photographed);
  return `<div class="pair">${one(predicted, W.predicted)}${second}</div><p><small>${escaped(W.tone(averagedBy(predicted.columns)))}</small></p>`;
}

function readingPart(
  { entry, hot }: ReportedReading,
  { predicted, setup }: RunReportInput,
  telling: Telling,
): string[] {
  const W = telling.language.report;
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
      numberCell(telling, measured.value, of(`${name}.value`)),
      numberCell(telling, measured.standardUncertainty, of(`${name}.standardUncertainty`), 2),
      numberCell(telling, measured.combinedUncertainty, of(`${name}.combinedUncertainty`), 2),
      cell(UNITS[name]),
    ];
  });
  const measured = QUANTITIES.filter((name) => kept[name] !== null);
  const budget = kept.budget.map((line, i) => [
    quotedCell(telling, line.cause),
    quotedCell(telling, line.kind),
    ...measured.map((name) => numberCell(telling, line[name], of(`budget.${i}.${name}`), 2)),
  ]);
  return [
    `<h2>${escaped(W.pictures)}, ${written(entry.title)}</h2>`,
    figures(predicted, hot, telling),
    heading(`${W.reading} ${entry.id}`),
    `<p>${quoted(telling, `${kept.verdict.code}: ${kept.verdict.text}`)}</p>`,
    table(
      telling,
      W.reading,
      [columns.quantity, columns.value, columns.noise, columns.all, columns.unit],
      values,
      false,
    ),
    table(
      telling,
      W.budget,
      [columns.cause, columns.kind, ...measured.map((name) => `${W.short[name]}, ${UNITS[name]}`)],
      budget,
    ),
    indexPart(kept, setup, telling),
    publishedPart(kept, of, telling),
    sentences(W.mind, kept.warnings, telling),
    originPart(entry, body, kept, telling),
  ];
}

function sentences(title: string, list: readonly string[], telling: Telling): string {
  if (list.length === 0) return "";
  return `<h3>${escaped(title)}</h3><ul>${list.map((each) => `<li>${quoted(telling, each)}</li>`).join("")}</ul>`;
}

/** The measured index with its points as a table, thinned to what a page holds. */
function indexPart(kept: Kept, setup: Setup, telling: Telling): string {
  const W = telling.language.report;
  const figure = measuredIndexFigure(kept, setup, telling);
  return figure === undefined
    ? ""
    : `${heading(W.measuredIndex)}<figure>${figure}<figcaption>${escaped(W.indexFigure.note)}</figcaption></figure>`;
}

function publishedPart(kept: Kept, of: (name: string) => string, telling: Telling): string {
  const W = telling.language.report;
  const { columns } = W;
  // Entries from before the published error was kept have none.
  const error = kept.derived.publishedRatio as Partial<NonNullable<Kept["derived"]["publishedRatio"]>> | null;
  const rows = kept.lineColumns.map(({ line }) => {
    const { element, wavelength, oscillatorStrength, alternatives } = lineById(line);
    return [
      cell(`${element}\u00a0${telling.numbers.fixed(wavelength * 1e9, 2)}\u202fnm`),
      numberCell(telling, wavelength * 1e9, of(`published.${line}.wavelength`), 7),
      numberCell(telling, oscillatorStrength, of(`published.${line}.f`)),
      citedCell(`${alternatives[0].source} (${alternatives[0].origin})`),
    ];
  });
  const lines = table(
    telling,
    W.published,
    [columns.line, columns.wavelength, columns.strength, columns.source],
    rows,
    false,
  );
  const { publishedRatio } = kept.derived;
  if (publishedRatio === null || kept.fRatio === null)
    return `${heading(W.published)}${lines}<p>${escaped(W.oneLine)}</p>`;
  const head = [
    columns.quantity,
    columns.measured,
    columns.all,
    columns.publishedValue,
    ...(error?.standardUncertainty === undefined ? [] : [columns.publishedUncertainty]),
    columns.deviation,
  ];
  const row = [
    cell(W.quantities.fRatio),
    numberCell(telling, kept.fRatio.value, of("ratio.measured")),
    numberCell(telling, kept.fRatio.combinedUncertainty, of("ratio.uncertainty"), 2),
    numberCell(telling, publishedRatio.published, of("derived.publishedRatio.published")),
    ...(error?.standardUncertainty === undefined
      ? []
      : [
          numberCell(telling, error.standardUncertainty, of("derived.publishedRatio.standardUncertainty"), 2),
        ]),
    numberCell(telling, publishedRatio.deviation, of("derived.publishedRatio.deviation"), 2),
  ];
  return heading(W.published) + lines + table(telling, W.quantities.fRatio, head, [row]);
}

const EQUATIONS = [
  String.raw`n(\lambda) - 1 = \frac{r_e N}{2\pi} \sum_i f_i \frac{\lambda_i^2 \lambda^2}{\lambda^2 - \lambda_i^2}`,
  String.raw`\theta(\lambda) = \int \frac{\partial n}{\partial y}\, dz = \frac{n - 1}{N} \int \frac{\partial N}{\partial y}\, dz`,
  String.raw`T(\lambda) = \exp\left(-\sigma(\lambda) \int N\, dz\right)`,
  String.raw`\sum_i f_i \frac{\lambda_i^2 \lambda_z^2}{\lambda_z^2 - \lambda_i^2} = 0`,
] as const;

function originPart(entry: Entry, body: ReadingBody, kept: Kept, telling: Telling): string {
  const W = telling.language.report;
  const { program, data, setup, seed, pictures } = body.provenance;
  const how = W.how.map((words, i) => `<p>${escaped(words)}</p>${equation(EQUATIONS[i])}`).join("");
  const rows = Object.entries(pictures).map(([role, digest]) => [
    cell(W.roles[role as keyof typeof W.roles]),
    codeCell(digest),
  ]);
  return [
    heading(W.origin),
    how,
    sentences(W.assumed, kept.assumptions, telling),
    `<p>${escaped(`${W.provenance}: crossprism ${program}, ${W.data}`)} <code>${escaped(data)}</code>, ${escaped(W.setupDigest)} <code>${escaped(setup)}</code>, ${escaped(W.entry)} <code>${escaped(entry.uid)}</code>, ${escaped(W.seed)} ${countOf(telling, seed, `${entry.uid}.provenance.seed`)}.</p>`,
    table(telling, W.provenance, [W.columns.pictureRole, W.columns.digest], rows),
  ].join("\n");
}

function cautions(setup: Setup, telling: Telling): string {
  const W = telling.language.report;
  const list = cautionsFor(setup).map(
    ({ level, sentence, source }) =>
      `<li><span class="${level}">${quoted(telling, sentence)}</span> ${citation(source)}</li>`,
  );
  return `${heading(W.cautions)}<p>${escaped(W.defer)}</p><ul>${list.join("")}</ul>`;
}
