/** One page that needs nothing else: no scripts, styles and pictures inside. */
import temml from "temml";
import { encodePng, type Frame } from "../picture/index.ts";
import { pngAddress } from "../plan/run-pictures.ts";
import { ENGLISH, type Language, type Numbers, type Retell, reteller } from "../words/index.ts";
import { escaped } from "./svg.ts";

/** In which language a page is told, and how its numbers and times are written. */
export interface Telling {
  readonly language: Language;
  readonly numbers: Numbers;
  /** what the rooms below say in English, told in this language where it can */
  readonly retell: Retell;
}

export function tellingIn(language: Language, numbers: Numbers): Telling {
  return { language, numbers, retell: reteller(ENGLISH.sentences, language.sentences, numbers) };
}

const STYLE = `
@page { size: A4; margin: 14mm 15mm; }
body { color: #111; background: #fff; font: 11pt/1.4 Georgia, serif; max-width: 180mm; margin: 6mm auto; padding: 0 4mm; }
h1 { font-size: 18pt; margin: 0 0 2mm; } h2 { font-size: 13pt; border-bottom: 1px solid #999; margin: 7mm 0 2mm; break-after: avoid; } h3 { font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid; }
table { border-collapse: collapse; margin: 2mm 0; max-width: 100%; } caption { text-align: left; font-style: italic; } th, td { border-bottom: 1px solid #bbb; padding: .6mm 2.5mm .6mm 0; text-align: left; vertical-align: top; font-size: 9.5pt; overflow-wrap: break-word; } tr, table:not(:has(tr:nth-child(20))) { break-inside: avoid; }
figure { margin: 2mm 0; break-inside: avoid; } figure svg { max-width: 100%; height: auto; } figcaption { font-size: 9pt; color: #333; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 4mm; } .pair img { width: 100%; border: 1px solid #999; }
.stop { font-weight: 700; } data { white-space: nowrap; } small, .source { color: #444; font-size: 8.5pt; overflow-wrap: anywhere; } details pre { overflow-x: auto; font-size: 8pt; } math { font-size: 12pt; } .formula { display: inline-block; width: 100%; margin: 1.5mm 0; break-inside: avoid; } .formula math { margin: 0; }
ol.questions > li { margin: 1.5mm 0; break-inside: avoid; }
@media print { body { margin: 0; padding: 0; max-width: none; } details { display: none; } }
`;

export function page(title: string, body: string, { language }: Telling): string {
  return `<!doctype html>
<html lang="${language.code}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escaped(title)}</title><style>${STYLE}</style></head><body>
${body}
</body></html>
`;
}

/** A number that machines read whole and people rounded. @param name what it is, to find it by */
export function numberOf({ numbers }: Telling, value: number, name: string, digits = 4): string {
  return `<data value="${value}" data-name="${escaped(name)}">${numbers.html(value, digits)}</data>`;
}

/** A sentence that the rooms below give, in the page's language; one that it lacks stays English and is marked so. */
export function quoted({ language, retell }: Telling, text: string): string {
  const told = retell(text);
  if (told !== undefined) return escaped(told);
  return language.code === "en" ? escaped(text) : `<span lang="en">${escaped(text)}</span>`;
}

/** Where something was published, in the words of who published it. */
export function citation(text: string): string {
  return `<cite class="source" lang="en">${escaped(text)}</cite>`;
}

/** What somebody wrote, in whatever language that was. */
export function written(text: string): string {
  return `<span lang="">${escaped(text)}</span>`;
}

/** A whole number that machines read too. */
export function countOf({ numbers }: Telling, value: number, name: string): string {
  return `<data value="${value}" data-name="${escaped(name)}">${numbers.fixed(value, 0)}</data>`;
}

/** A time that machines read whole and people as their country writes it. */
export function timeHtml({ numbers }: Telling, iso: string): string {
  return `<time datetime="${escaped(iso)}">${escaped(numbers.moment(iso))}</time>`;
}

/** TeX as MathML, on a line of its own that no page breaks. */
export function equation(tex: string): string {
  return `<div class="formula">${temml.renderToString(tex, { displayMode: true, xml: true })}</div>`;
}

export interface TableCell {
  readonly html: string;
  /** for the CSV */
  readonly plain: string | number;
}

export function cell(text: string): TableCell {
  return { html: escaped(text), plain: text };
}

export function numberCell(telling: Telling, value: number, name: string, digits = 4): TableCell {
  return { html: numberOf(telling, value, name, digits), plain: value };
}

export function quotedCell(telling: Telling, text: string): TableCell {
  return { html: quoted(telling, text), plain: telling.retell(text) ?? text };
}

/**
 * A table, and below it the same as CSV (RFC 4180) to look at and to save.
 * @param named false where the heading above says the same; then the caption is only read aloud
 */
export function table(
  { language }: Telling,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly TableCell[])[],
  named = true,
): string {
  const csv = [head, ...rows.map((row) => row.map(({ plain }) => String(plain)))]
    .map((row) => row.map(csvField).join(","))
    .join("\r\n");
  const address = `data:text/csv;charset=utf-8,${encodeURIComponent(`${csv}\r\n`)}`;
  return `<table${named ? "" : ` aria-label="${escaped(caption)}"`}>${named ? `<caption>${escaped(caption)}</caption>` : ""}<thead><tr>${head.map((name) => `<th scope="col">${escaped(name)}</th>`).join("")}</tr></thead><tbody>${rows.map((row) => `<tr>${row.map(({ html }) => `<td>${html}</td>`).join("")}</tr>`).join("")}</tbody></table>
<details><summary>${escaped(language.report.asCsv)}</summary><pre>${escaped(csv)}</pre><a download="table.csv" href="${address}">${escaped(language.report.save)}</a></details>`;
}

function csvField(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Most columns that a picture in a page keeps. */
const MOST_COLUMNS = 800;

/** By how many pixels a picture of so many columns is averaged. */
export function averagedBy(columns: number): number {
  return Math.ceil(columns / MOST_COLUMNS);
}

/**
 * A frame in grey as the address of an 8-bit PNG: channels averaged, square root up to the sample below which 99.9 % lie.
 * @param negative dark where there is light
 */
export function pictureAddress(frame: Frame, negative = false): string {
  const by = averagedBy(frame.columns);
  const columns = Math.floor(frame.columns / by);
  const rows = Math.floor(frame.rows / by);
  const mean = new Float64Array(columns * rows);
  for (let r = 0; r < rows * by; r++) {
    for (let c = 0; c < columns * by; c++) {
      let sum = 0;
      for (let k = 0; k < frame.channels; k++)
        sum += frame.samples[(r * frame.columns + c) * frame.channels + k];
      mean[Math.floor(r / by) * columns + Math.floor(c / by)] += sum / (by * by * frame.channels);
    }
  }
  const top = Math.max(1e-9, mean.toSorted()[Math.floor((mean.length - 1) * 0.999)]);
  const samples = Uint8Array.from(mean, (value) => {
    const grey = Math.round(255 * Math.sqrt(Math.min(1, value / top)));
    return negative ? 255 - grey : grey;
  });
  return pngAddress(encodePng({ columns, rows, channels: 1, depth: 8, samples }));
}
