/** Text inside SVG. */

/** Characters that XML reserves, written so that they are read as themselves; what XML forbids is left out. */
export function escaped(text: string): string {
  return text
    .replace(/[^\P{Cc}\t\n\r]/gu, "")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

/** Powers such as "10^-5" and "m^-1" raised; the rest as it stands. */
export function raised(text: string): string {
  return text
    .split(/(\^-?\d+)/)
    .map((part, i) =>
      i % 2 === 0
        ? escaped(part)
        : `<tspan dy="-0.4em" font-size="75%">${part.slice(1).replace("-", "\u2212")}</tspan><tspan dy="0.3em">\u200b</tspan>`,
    )
    .join("");
}
