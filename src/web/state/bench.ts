/**
 * The one tree of the page: what stands on the bench and how one looks at it. It serialises to JSON as it is; a link, a
 * saved file and the memory of the browser all hold this.
 */
import type { SetupText } from "./setup-text.ts";

export const ELEMENTS = [
  "lamp",
  "condenser",
  "level-slit",
  "collimator",
  "tube",
  "focusing-lens",
  "plumb-slit",
  "second-collimator",
  "disperser",
  "camera-lens",
  "camera",
] as const;
export type ElementId = (typeof ELEMENTS)[number];

export const SHOWS = ["hot", "cold", "both"] as const;
export type Show = (typeof SHOWS)[number];

/** What can be open under the picture, in the order of the day. */
export const LEAF_IDS = [
  "choose",
  "prepare",
  "heat",
  "photograph",
  "measure",
  "tell",
  "explain",
  "compare",
  "inside",
  "curves",
  "terms",
] as const;
export type LeafId = (typeof LEAF_IDS)[number];

export const COLOURS = ["camera", "eye"] as const;
export type Colours = (typeof COLOURS)[number];

export type Wavelengths = "air" | "vacuum";

export interface View {
  /** the element whose fields are open */
  readonly element: ElementId;
  readonly show: Show;
  /** how wavelengths are written */
  readonly wavelengths: Wavelengths;
  /** vacuum wavelength of the line under the pointer, m; null where none is set */
  readonly cursor: number | null;
  /** what is open under the picture; null where nothing is */
  readonly leaf: LeafId | null;
  /** in whose colours the picture is shown */
  readonly colours: Colours;
  /** whether the picture is tinted by where the light went */
  readonly tints: boolean;
  /** minute of the warm-up that is shown; null for the steady state */
  readonly minute: number | null;
}

export interface Bench {
  readonly setup: SetupText;
  readonly view: View;
}

export const FIRST_VIEW: View = {
  element: "tube",
  show: "hot",
  wavelengths: "air",
  cursor: null,
  leaf: null,
  colours: "camera",
  tints: false,
  minute: null,
};

/** What a link, a file or the browser's memory held, checked; a plain setup file is a bench with the first view. */
export function benchFrom(json: unknown): Bench | undefined {
  if (!isRecord(json)) return undefined;
  if (!isRecord(json["setup"])) {
    return isRecord(json["medium"]) ? { setup: json as SetupText, view: FIRST_VIEW } : undefined;
  }
  const view = isRecord(json["view"]) ? json["view"] : {};
  return {
    setup: json["setup"] as SetupText,
    view: {
      element: among(ELEMENTS, view["element"]) ?? FIRST_VIEW.element,
      show: among(SHOWS, view["show"]) ?? FIRST_VIEW.show,
      wavelengths: among(["air", "vacuum"] as const, view["wavelengths"]) ?? FIRST_VIEW.wavelengths,
      cursor: typeof view["cursor"] === "number" ? view["cursor"] : null,
      leaf: among(LEAF_IDS, view["leaf"]) ?? null,
      colours: among(COLOURS, view["colours"]) ?? FIRST_VIEW.colours,
      tints: view["tints"] === true,
      minute: typeof view["minute"] === "number" && view["minute"] >= 0 ? view["minute"] : null,
    },
  };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function among<T extends string>(options: readonly T[], value: unknown): T | undefined {
  return options.find((option) => option === value);
}
