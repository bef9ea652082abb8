/** The drawings of a view as one file of their own: an SVG with the styles that they have now written into it. */
import { saveFile } from "../measure/save-file.ts";

const KEPT = [
  "fill",
  "fill-opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "opacity",
  "font-family",
  "font-size",
  "text-anchor",
];
/** Room around and between the drawings, and height of a line of words, px. */
const ROOM = 16;
const LINE = 24;

export interface Still {
  readonly svg: string;
  /** px */
  readonly width: number;
  readonly height: number;
}

/** All drawings inside a part of the page under one another, below the heading and what the sliders say. */
export function stillOf(inside: HTMLElement, heading: string): Still {
  const drawings = [...inside.querySelectorAll("svg")];
  const said = [...inside.querySelectorAll(".explain-slider")].map(
    (slider) =>
      `${slider.querySelector("label")?.textContent ?? ""}: ${slider.querySelector("output")?.textContent ?? ""}`,
  );
  const ink = getComputedStyle(inside).color;
  const width = 2 * ROOM + Math.max(320, ...drawings.map((each) => each.getBoundingClientRect().width));
  let y = ROOM;
  const parts: string[] = [];
  for (const [i, words] of [heading, ...said].entries()) {
    y += LINE;
    parts.push(
      `<text x="${ROOM}" y="${y - 7}" fill="${ink}" font-family="sans-serif" font-size="${i === 0 ? 17 : 13}">${escaped(words)}</text>`,
    );
  }
  for (const drawing of drawings) {
    parts.push(copyOf(drawing, y));
    y += drawing.getBoundingClientRect().height + ROOM;
  }
  return {
    svg: `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${y}" viewBox="0 0 ${width} ${y}"><rect width="${width}" height="${y}" fill="${groundOf(inside)}"/>${parts.join("")}</svg>`,
    width,
    height: y,
  };
}

/** One drawing where it stands in the still; its own coordinates are kept. */
function copyOf(drawing: SVGSVGElement, y: number): string {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const from = [drawing, ...drawing.querySelectorAll("*")];
  const to = [copy, ...copy.querySelectorAll("*")];
  from.forEach((element, i) => {
    const style = getComputedStyle(element);
    for (const name of KEPT) {
      const value = style.getPropertyValue(name);
      if (value !== "") to[i]?.setAttribute(name, value);
    }
    to[i]?.removeAttribute("class");
  });
  const { width, height } = drawing.getBoundingClientRect();
  if (!copy.hasAttribute("viewBox")) copy.setAttribute("viewBox", `0 0 ${width} ${height}`);
  for (const [name, value] of Object.entries({ x: ROOM, y, width, height }))
    copy.setAttribute(name, String(value));
  return new XMLSerializer().serializeToString(copy);
}

/** What lies behind a part of the page: the nearest colour that is not transparent. */
function groundOf(element: Element | null): string {
  if (element === null) return "white";
  const { backgroundColor } = getComputedStyle(element);
  const clear = backgroundColor === "transparent" || /,\s*0\)$/.test(backgroundColor);
  return clear ? groundOf(element.parentElement) : backgroundColor;
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
}

/** Hands the drawings to the person as a file. */
export function saveStill(inside: HTMLElement, heading: string, name: string): void {
  saveFile(new Blob([stillOf(inside, heading).svg], { type: "image/svg+xml" }), `${name}.svg`);
}
