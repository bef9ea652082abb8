/** A drawing on the page as a file of its own: SVG with the styles it has now written into it. */
const KEPT = [
  "fill",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "opacity",
  "font-family",
  "font-size",
  "text-anchor",
];

export function stillOf(drawing: SVGSVGElement): string {
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
  const box = drawing.getBoundingClientRect();
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("viewBox", `0 0 ${Math.round(box.width)} ${Math.round(box.height)}`);
  copy.setAttribute("style", `background: ${getComputedStyle(document.body).backgroundColor}`);
  return new XMLSerializer().serializeToString(copy);
}

/** Hands the first drawing inside a part of the page to the person as a file. */
export function saveStill(inside: HTMLElement, name: string): void {
  const drawing = inside.querySelector("svg");
  if (drawing === null) return;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([stillOf(drawing)], { type: "image/svg+xml" }));
  link.download = `${name}.svg`;
  link.click();
  URL.revokeObjectURL(link.href);
}
