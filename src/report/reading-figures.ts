/** Figures of a reading as SVG: the fitted curve over the photograph, what the fit leaves over, how its parameters hang together. */
import { encodePng, type Frame } from "../picture/index.ts";
import type { Reading } from "../reading/index.ts";
import { escaped } from "./svg.ts";

const MARGIN = 46;
const HEAD = 34;
const CURVE = "#d8762c";
const POINT = "#4f8fe6";
/** Residuals beyond this many standard deviations are drawn as this many. */
const MOST = 5;
/** Trace points drawn at most. */
const POINTS = 240;

interface Part {
  readonly id: string;
  readonly title: string;
  readonly words: string;
  readonly width: number;
  readonly height: number;
  readonly body: string;
}

function svg({ id, title, words, width, height, body }: Part): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="${id}-title ${id}-words" font-family="serif" font-size="13" fill="currentColor">
<title id="${id}-title">${escaped(title)}</title>
<desc id="${id}-words">${escaped(words)}</desc>
<text x="${MARGIN}" y="20" font-size="16">${escaped(title)}</text>
${body}
</svg>
`;
}

function embedded(frame: Frame): string {
  let text = "";
  const bytes = encodePng(frame);
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  const data = `data:image/png;base64,${btoa(text)}`;
  return `<image x="${MARGIN}" y="${HEAD}" width="${frame.columns}" height="${frame.rows}" image-rendering="pixelated" href="${data}"/>`;
}

/** Columns and rows along the edges of a picture drawn at (MARGIN, HEAD). */
function edges(columns: number, rows: number): string {
  const step = (size: number): number => [20, 50, 100, 200, 500, 1000].find((s) => size / s <= 8) ?? 2000;
  const ticks: string[] = [];
  for (let c = 0; c <= columns; c += step(columns))
    ticks.push(
      `<path d="M${MARGIN + c} ${HEAD + rows}v4" stroke="currentColor"/><text x="${MARGIN + c}" y="${HEAD + rows + 17}" text-anchor="middle" font-size="11">${c}</text>`,
    );
  for (let r = 0; r <= rows; r += step(rows))
    ticks.push(
      `<path d="M${MARGIN} ${HEAD + r}h-4" stroke="currentColor"/><text x="${MARGIN - 7}" y="${HEAD + r + 4}" text-anchor="end" font-size="11">${r}</text>`,
    );
  return `<rect x="${MARGIN}" y="${HEAD}" width="${columns}" height="${rows}" fill="none" stroke="currentColor" stroke-width=".75"/>${ticks.join("")}`;
}

/** Grey of a photograph with a square-root stretch above its darker half, so that faint branches are seen and the dark is dark. */
function greyOf(frame: Frame): Frame {
  const { columns, rows, channels } = frame;
  const sorted = Float64Array.from(frame.samples).sort();
  const dark = sorted[sorted.length >> 1];
  const span = Math.max(1, sorted[Math.floor((sorted.length - 1) * 0.999)] - dark);
  const samples = new Uint8Array(columns * rows);
  for (let i = 0; i < samples.length; i++) {
    let sum = 0;
    for (let k = 0; k < channels; k++) sum += frame.samples[i * channels + k];
    samples[i] = Math.round(255 * Math.sqrt(Math.min(1, Math.max(0, (sum / channels - dark) / span))));
  }
  return { columns, rows, channels: 1, depth: 8, samples };
}

/** The photograph with the fitted curve, the trace and the lines over it; what was struck by hand is framed. */
export function overlayFigure(frame: Frame, reading: Reading): string {
  const { columns, rows } = frame;
  const x = (column: number): string => (MARGIN + column).toFixed(2);
  const y = (row: number): string => (HEAD + row).toFixed(2);
  const { curve, trace, lineColumns, marks } = reading;
  let path = "";
  let open = false;
  for (let i = 0; i < curve.column.length; i++) {
    const inside =
      curve.row[i] > 0 && curve.row[i] < rows && curve.column[i] >= 0 && curve.column[i] <= columns;
    const seen = inside && curve.transmission[i] > 0.02;
    if (seen) path += `${open ? "L" : "M"}${x(curve.column[i])} ${y(curve.row[i])}`;
    open = seen;
  }
  const every = Math.max(1, Math.ceil(trace.length / POINTS));
  const points = trace
    .filter((_, k) => k % every === 0)
    .map((p) => `<circle cx="${x(p.column)}" cy="${y(p.row)}" r="1.6" fill="${POINT}"/>`);
  const hand = (marks?.points ?? []).map(
    (p) => `<circle cx="${x(p.column)}" cy="${y(p.row)}" r="4" fill="none" stroke="${POINT}"/>`,
  );
  const struck = (marks?.struck ?? []).map(
    ({ columns: c, rows: r }) =>
      `<rect x="${x(c[0])}" y="${y(r[0])}" width="${c[1] - c[0] + 1}" height="${r[1] - r[0] + 1}" fill="none" stroke="${POINT}" stroke-dasharray="4 3"/>`,
  );
  const lines = lineColumns.map(
    (line) =>
      `<path d="M${x(line.column)} ${HEAD}v${rows}" stroke="${CURVE}" stroke-width=".6" stroke-dasharray="2 4"/><text x="${x(line.column)}" y="${HEAD + rows + 32}" text-anchor="middle" font-size="11">${(line.wavelength * 1e9).toFixed(2)} nm</text>`,
  );
  return svg({
    id: "overlay",
    title: "Fitted curve over the photograph",
    words: `${reading.verdict.text} ${lineColumns.length} lines, ${trace.length} trace points. Columns and rows in pixels.`,
    width: columns + 2 * MARGIN,
    height: rows + HEAD + 66,
    body: [
      `<path d="M${MARGIN} ${HEAD + rows + 51}h18" stroke="${CURVE}" stroke-width="1.6"/><text x="${MARGIN + 24}" y="${HEAD + rows + 55}" font-size="11">fit, middle of the beam</text><circle cx="${MARGIN + 165}" cy="${HEAD + rows + 51}" r="2.2" fill="${POINT}"/><text x="${MARGIN + 173}" y="${HEAD + rows + 55}" font-size="11">centre of the light in a column</text>`,
      embedded(greyOf(frame)),
      ...lines,
      ...points,
      `<path d="${path}" fill="none" stroke="${CURVE}" stroke-width="1.2"/>`,
      ...hand,
      ...struck,
      edges(columns, rows),
    ].join("\n"),
  });
}

/** Photograph less model in standard deviations of its noise: blue too dark, red too bright, grey where nothing was fitted. */
export function residualFigure(frame: Frame, reading: Reading): string {
  const { columns, rows } = frame;
  const { residual, mask } = reading;
  const samples = new Uint8Array(columns * rows * 3);
  for (let i = 0; i < columns * rows; i++) {
    const [r, g, b] =
      mask[i] === 0 ? [226, 226, 226] : mask[i] === 2 ? [40, 40, 40] : diverging(residual[i] / MOST);
    samples[3 * i] = r;
    samples[3 * i + 1] = g;
    samples[3 * i + 2] = b;
  }
  const bar = Array.from({ length: 41 }, (_, k) => {
    const [r, g, b] = diverging(k / 20 - 1);
    return `<rect x="${MARGIN + k * 5}" y="${HEAD + rows + 26}" width="5.2" height="9" fill="rgb(${r},${g},${b})"/>`;
  });
  return svg({
    id: "residual",
    title: "What the fit leaves over",
    words: `Photograph less model in standard deviations of the noise; chi square per degree of freedom ${reading.reducedChiSquare.toPrecision(3)} over ${reading.degreesOfFreedom} pixels. Black pixels were struck, grey ones took no part.`,
    width: columns + 2 * MARGIN,
    height: rows + HEAD + 62,
    body: [
      embedded({ columns, rows, channels: 3, depth: 8, samples }),
      edges(columns, rows),
      ...bar,
      `<text x="${MARGIN}" y="${HEAD + rows + 50}" font-size="11">\u2212${MOST} \u03c3</text><text x="${MARGIN + 205}" y="${HEAD + rows + 50}" text-anchor="end" font-size="11">+${MOST} \u03c3</text>`,
      `<text x="${MARGIN + 225}" y="${HEAD + rows + 36}" font-size="11">\u03c7\u00b2 per degree of freedom ${reading.reducedChiSquare.toPrecision(3)}</text>`,
    ].join("\n"),
  });
}

/** Correlation of the fitted parameters: a square each, blue negative, red positive, with its hundredths. */
export function correlationFigure(reading: Reading): string {
  const { parameters, covariance } = reading;
  const n = parameters.length;
  const cell = 34;
  const side = 130;
  const at = (i: number, j: number): number => {
    const scale = Math.sqrt(covariance[i * n + i] * covariance[j * n + j]);
    return scale > 0 ? covariance[i * n + j] / scale : 0;
  };
  const parts: string[] = [];
  for (let i = 0; i < n; i++) {
    const y = HEAD + 110 + i * cell;
    parts.push(
      `<text x="${side - 8}" y="${y + cell / 2 + 4}" text-anchor="end">${escaped(parameters[i].name)}</text>`,
      `<text transform="translate(${side + i * cell + cell / 2 + 4} ${HEAD + 102}) rotate(-60)">${escaped(parameters[i].name)}</text>`,
    );
    for (let j = 0; j < n; j++) {
      const value = at(i, j);
      const [r, g, b] = diverging(value);
      parts.push(
        `<rect x="${side + j * cell}" y="${y}" width="${cell - 1}" height="${cell - 1}" fill="rgb(${r},${g},${b})"/>`,
      );
      if (i !== j && Math.abs(value) >= 0.095)
        parts.push(
          `<text x="${side + j * cell + cell / 2}" y="${y + cell / 2 + 4}" text-anchor="middle" font-size="11" fill="${Math.abs(value) > 0.6 ? "white" : "black"}">${(100 * value).toFixed(0).replace("-", "\u2212")}</text>`,
        );
    }
  }
  return svg({
    id: "correlation",
    title: "Correlation of the parameters, hundredths",
    words: `${n} parameters: ${parameters.map((p) => p.name).join(", ")}.`,
    width: side + n * cell + 60,
    height: HEAD + 120 + n * cell,
    body: parts.join("\n"),
  });
}

/** \u22121 blue, 0 white, 1 red. */
function diverging(value: number): [number, number, number] {
  const v = Math.max(-1, Math.min(1, value));
  const mix = (end: readonly number[]): [number, number, number] => {
    const [r, g, b] = end.map((e) => Math.round(250 + Math.abs(v) * (e - 250)));
    return [r, g, b];
  };
  return v < 0 ? mix([33, 82, 168]) : mix([178, 34, 40]);
}
