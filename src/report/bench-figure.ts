/** The bench drawn to scale: from the side and from above, with traced rays, and the list of its distances. */
import {
  type BenchElement,
  type BenchElementKind,
  benchElements,
  type PathInput,
  type SpectralMap,
} from "../path/index.ts";
import { ENGLISH, type Language, type Retell } from "../words/index.ts";
import { inkOf } from "./ink.ts";
import { escaped } from "./svg.ts";

/** One colour of light: its bend at the tube, rad. */
export interface BenchColour {
  /** vacuum, m */
  readonly wavelength: number;
  readonly bend: number;
}

type BenchWords = Language["bench"];

export interface BenchVessel {
  readonly bore: number;
  readonly length: number;
  /** a tube where not given */
  readonly contents?: { readonly kind: "cell" | "flame" | "prism" };
}

export interface BenchFigureOptions {
  readonly title: string;
  readonly path: PathInput;
  readonly vessel: BenchVessel;
  readonly map: SpectralMap;
  /** height and width of the sensor, m */
  readonly sensor: { readonly height: number; readonly width: number };
  /** colours to draw; those beyond the sensor are left out of the view from above */
  readonly colours: readonly BenchColour[];
  /** n of a scale 1:n */
  readonly scale: number;
  /** English where not given */
  readonly words?: BenchWords;
  /** English sentences in the language of the words */
  readonly retell?: Retell;
}

/** Digits that tell the colours of a drawing apart, 1 to 3. */
function wavelengthDigits(colours: readonly BenchColour[]): number {
  const apart = (digits: number): boolean =>
    new Set(colours.map(({ wavelength }) => (wavelength * 1e9).toFixed(digits))).size === colours.length;
  return [1, 2].find(apart) ?? 3;
}

/** What an element is called: the vessel by what it is. */
function nameOf(kind: BenchElementKind, vessel: BenchVessel, words: BenchWords): string {
  return words.names[kind === "tube" ? (vessel.contents?.kind ?? "tube") : kind];
}

/** Paper kept for each view above and below the axis, and around the drawing, mm. */
const HALF_VIEW = 28;
const MARGIN = 14;
/** Height on paper to which the widest thing across the axis is brought, and to which the largest displacement at the plumb slit is, mm. */
const ACROSS = 18;
const BENT = 6;
/** Bends that would have to be drawn larger than so are too small for a drawing: the rays go straight on, and the drawing says so. */
const LARGEST_BENDS = 1000;

/** Elements in order with their places, for a table: lengths in m, `next` the distance to the one after, between middles. */
export function benchDistances(
  path: PathInput,
  vessel: BenchVessel,
  words: BenchWords = ENGLISH.bench,
): readonly {
  name: string;
  from: number;
  length: number;
  next: number | null;
  height: number;
  width: number;
}[] {
  const { elements } = benchElements(path, vessel);
  return elements.map((element, i) => ({
    name: nameOf(element.kind, vessel, words),
    from: element.z - elements[0].z,
    length: element.length,
    next: i + 1 < elements.length ? elements[i + 1].z - element.z : null,
    height: element.height,
    width: element.width,
  }));
}

/**
 * An SVG document in millimetres of paper. Lengths along the light are true to the stated scale; distances across it are drawn larger by a round factor, and
 * bends of the light larger again by at most a thousand (smaller ones are not drawn), all stated in the drawing.
 */
export function benchFigure(options: BenchFigureOptions): string {
  const { path, vessel, map, sensor, scale } = options;
  const words = options.words ?? ENGLISH.bench;
  const most = Math.max(1e-9, ...options.colours.map(({ bend }) => Math.abs(bend)));
  const widest = Math.max(path.beamSize, path.beamWidth, vessel.bore) / 2;
  const toPaper = 1e3 / scale;
  const across = roundFactor(ACROSS / (widest * toPaper));
  const wanted = roundFactor(BENT / (most * path.focalLength * toPaper * across));
  const bends = wanted > LARGEST_BENDS ? 0 : wanted;
  const layout = benchElements(
    path,
    vessel,
    options.colours.map(({ bend }) => bend * bends),
    sensor,
  );
  const start = layout.elements[0].z;
  const z = (at: number): number => MARGIN + (at - start) * toPaper;
  const length = z(layout.elements[layout.elements.length - 1].z) + MARGIN;
  const side = MARGIN + 12 + HALF_VIEW;
  const top = side + 2 * HALF_VIEW + 12;
  const height = top + HALF_VIEW + 26;
  const y = (axis: number, offset: number): number => axis - offset * toPaper * across;
  const line = (zs: readonly number[], ys: readonly number[], axis: number, ink: string): string =>
    `<path d="${zs.map((at, i) => `${i === 0 ? "M" : "L"}${z(at).toFixed(2)} ${y(axis, ys[i]).toFixed(2)}`).join("")}" fill="none" stroke="${ink}" stroke-width="0.25"/>`;
  const sideRays = layout.rays.filter((ray) => ray.view === "side");
  const topRays = layout.rays.filter((ray) => ray.view === "top");
  const spectrum = options.colours
    .filter(({ wavelength }) => wavelength >= map.reach.shortest && wavelength <= map.reach.longest)
    .map(({ wavelength }) => ({ wavelength, place: map.position(wavelength) }))
    .filter(({ place }) => Math.abs(place) <= sensor.width / 2);
  const parts = [
    `<text x="${MARGIN}" y="${MARGIN}" font-size="4">${escaped(options.title)}</text>`,
    `<text x="${MARGIN}" y="${MARGIN + 5}">${escaped(words.scale(String(scale), String(across)))}</text>`,
    `<text x="${MARGIN}" y="${MARGIN + 9}">${escaped(bends === 0 ? words.straight : words.bends(String(bends)))};${layout.assumptions.map((each) => assumed(each)).join(";")}</text>`,
    `<text x="${(length - MARGIN).toFixed(2)}" y="${MARGIN}" text-anchor="end">${options.colours
      .map(
        ({ wavelength }) =>
          `<tspan fill="${inkOf(wavelength)}">${(wavelength * 1e9).toFixed(wavelengthDigits(options.colours))}</tspan>`,
      )
      .join(" \u00b7 ")} nm</text>`,
    ...[
      { axis: side, name: words.side },
      { axis: top, name: words.above },
    ].flatMap(({ axis, name }) => [
      `<text x="${MARGIN}" y="${axis - HALF_VIEW + 4}">${escaped(name)}</text>`,
      `<path d="M${MARGIN / 2} ${axis}H${(length - MARGIN / 2).toFixed(2)}" stroke="currentColor" stroke-width="0.1" stroke-dasharray="4 1 1 1"/>`,
    ]),
    ...layout.elements.map((element) => shape(element, "height", side)),
    ...layout.elements.map((element) => shape(element, "width", top)),
    ...sideRays.map((ray, i) => line(ray.z, ray.offset, side, inkOf(options.colours[i >> 1].wavelength))),
    ...topRays.map((ray) => line(ray.z.slice(0, -1), ray.offset.slice(0, -1), top, "currentColor")),
    ...topRays.flatMap((ray) =>
      spectrum.map(({ wavelength, place }) =>
        line(ray.z.slice(-2), [ray.offset[ray.offset.length - 2], place], top, inkOf(wavelength)),
      ),
    ),
    ...dimensions(),
  ];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${length.toFixed(2)}mm" height="${height}mm" viewBox="0 0 ${length.toFixed(2)} ${height}" role="img" aria-label="${escaped(options.title)}" font-family="sans-serif" font-size="3" fill="currentColor">`,
    ...parts,
    "</svg>",
  ].join("\n");

  function assumed(sentence: string): string {
    const told = options.retell?.(sentence);
    return told === undefined
      ? ` <tspan lang="en">${escaped(sentence)}</tspan>`
      : ` <tspan>${escaped(told)}</tspan>`;
  }

  function shape(element: BenchElement, extent: "height" | "width", axis: number): string {
    const half = Math.max(0.4, (element[extent] / 2) * toPaper * across);
    const wide = Math.max(0.5, element.length * toPaper);
    const x = z(element.z) - wide / 2;
    const slit = element.kind === "level-slit" || element.kind === "plumb-slit";
    const opening = slit && (element.kind === "level-slit") === (extent === "height");
    // A slit is drawn as its two jaws where the view shows its opening.
    if (opening) {
      const jaw = ACROSS / 2;
      return [-1, 1]
        .map(
          (way) =>
            `<path d="M${z(element.z).toFixed(2)} ${(axis + way * half).toFixed(2)}v${(way * jaw).toFixed(2)}" stroke="currentColor" stroke-width="0.6"/>`,
        )
        .join("");
    }
    return `<rect x="${x.toFixed(2)}" y="${(axis - half).toFixed(2)}" width="${wide.toFixed(2)}" height="${(2 * half).toFixed(2)}" fill="currentColor" fill-opacity="0.06" stroke="currentColor" stroke-width="0.2"><title>${escaped(nameOf(element.kind, vessel, words))}</title></rect>`;
  }

  /** Distances between neighbours below both views, names turned so that close ones do not meet. */
  function dimensions(): string[] {
    const base = top + HALF_VIEW + 2;
    return layout.elements.flatMap((element, i) => {
      const x = z(element.z);
      const next = layout.elements[i + 1] as BenchElement | undefined;
      return [
        `<path d="M${x.toFixed(2)} ${base - 1}v2" stroke="currentColor" stroke-width="0.15"/>`,
        `<text transform="translate(${x.toFixed(2)} ${base + 5}) rotate(40)" font-size="2.6">${escaped(nameOf(element.kind, vessel, words))}</text>`,
        ...(next === undefined
          ? []
          : [
              `<path d="M${x.toFixed(2)} ${base}H${z(next.z).toFixed(2)}" stroke="currentColor" stroke-width="0.1"/>`,
              `<text x="${((x + z(next.z)) / 2).toFixed(2)}" y="${base - 1}" font-size="2.2" text-anchor="middle">${((next.z - element.z) * 1e3).toFixed(0)}</text>`,
            ]),
      ];
    });
  }
}

/** 1, 2 or 5 times a power of ten, at most `wanted`, at least 1. */
function roundFactor(wanted: number): number {
  if (!(wanted > 1)) return 1;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const lead = wanted / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}
