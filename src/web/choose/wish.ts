/** The form of a wish as plain data, where it starts for a setup, and the question it makes. */
import type { ChooseWish } from "../../plan/choose.ts";
import type { QuantityField } from "../../setup/field-kinds.ts";
import { fieldAt } from "../../setup/fields.ts";
import { formatQuantity, parseQuantity } from "../../quantity/index.ts";
import { hasGroup, type SetupText, valueAt } from "../state/setup-text.ts";

export interface Freed {
  readonly path: string;
  /** text with units */
  readonly from: string;
  readonly to: string;
}

export interface WishText {
  /** names of wishes in the order of their weight; "" for none */
  readonly wishes: readonly [string, string, string];
  readonly height: string;
  readonly gap: string;
  /** the pair clearly apart on a screen */
  readonly screen: boolean;
  readonly width: string;
  readonly distance: string;
  readonly shows: "camera" | "light";
  readonly free: readonly Freed[];
}

/** What may be freed, the usual ones first. */
const FREE_PATHS = [
  "vessel.bottom",
  "vessel.top",
  "vessel.heater.power",
  "vessel.gasPressure",
  "vessel.heatedLength",
  "vessel.bore",
  "path.levelSlit",
  "path.plumbSlit",
  "path.beamSize",
  "path.beamWidth",
  "path.beamHeight",
  "path.focalLength",
  "path.cameraFocalLength",
] as const;

/** Fields of the setup that are a number with a unit and apply to it. */
export function freeable(setup: SetupText): readonly QuantityField[] {
  const heater = hasGroup(setup, "vessel.heater");
  return FREE_PATHS.filter((path) =>
    path === "vessel.heater.power" ? heater : !heater || !/bottom|top$/.test(path),
  )
    .map((path) => fieldAt(path))
    .filter((field) => field?.kind === "quantity")
    .filter((field) => valueAt(setup, field.path) !== undefined || field.default !== undefined);
}

export function firstWish(setup: SetupText): WishText {
  const fields = freeable(setup);
  const start = hasGroup(setup, "vessel.heater") ? ["vessel.heater.power"] : ["vessel.bottom", "vessel.top"];
  return {
    wishes: ["tallest", "", ""],
    height: "",
    gap: "",
    screen: false,
    width: "1.5 m",
    distance: "8 m",
    shows: "camera",
    free: fields.filter((field) => start.includes(field.path)).map((field) => freed(field, setup)),
  };
}

/** A range about the value that stands: 60 K to either side, or from two thirds to one and a half times. */
export function freed(field: QuantityField, setup: SetupText): Freed {
  const written = String(valueAt(setup, field.path) ?? field.default ?? "");
  const value = parseQuantity(written, field.unit, field.label);
  const bounded = (each: number): number => Math.min(field.max, Math.max(field.min, each));
  const [low, high] =
    field.unit === "K"
      ? [value - 60, value + 60]
      : value === 0
        ? [field.min / 10, field.max / 10]
        : [value / 1.5, value * 1.5];
  const text = (each: number): string =>
    formatQuantity(bounded(each), field.unit, { digits: 3, as: field.show });
  return { path: field.path, from: text(low), to: text(high) };
}

/** @param forecasts most forecasts to make */
export function questionOf(text: WishText, forecasts: number): ChooseWish {
  const metres = (value: string, field: string): number => parseQuantity(value, "m", field);
  const given = (value: string): boolean => value.trim() !== "";
  return {
    wishes: text.wishes.filter((name, i) => name !== "" && text.wishes.indexOf(name) === i),
    atLeast: given(text.height) ? [`height=${text.height}`] : [],
    atMost: given(text.gap) ? [`halfGap=${text.gap}`] : [],
    free: text.free.map(({ path, from, to }) => `${path}=${from}..${to}`),
    ...(text.screen
      ? {
          screen: {
            shows: text.shows,
            width: metres(text.width, "width of the screen"),
            distance: metres(text.distance, "last row"),
          },
        }
      : {}),
    forecasts,
    list: 6,
  };
}
