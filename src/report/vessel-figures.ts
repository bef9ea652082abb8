/** Figures of a vessel: its wall unrolled, cuts through temperature, density and supersaturation, the beam, the warm-up. */
import {
  beamProfile,
  crossSection,
  longSection,
  type SectionQuantity,
  type VapourField,
  type VapourSeries,
  wallTable,
} from "../vessel/index.ts";
import { heatMap } from "./heat-map.ts";
import { lineChart } from "./line-chart.ts";

const NAMES: Readonly<Record<SectionQuantity, string>> = {
  density: "density, m^-3",
  gasTemperature: "gas temperature, °C",
  moleFraction: "share of metal in the gas",
  supersaturation: "supersaturation",
};

/** As a person reads it: temperatures in degrees Celsius. */
const shownOf = (quantity: SectionQuantity, values: Float64Array): Float64Array =>
  quantity === "gasTemperature" ? values.map((t) => t - 273.15) : values;

/** A cut across the bore at mid-length, seen along the light, with contours; supersaturation in decades. */
export function crossFigure(field: VapourField, quantity: SectionQuantity): string {
  const table = crossSection(field, quantity);
  const half = 0.5e3 * table.width;
  return heatMap(
    { ...table, values: shownOf(quantity, table.values) },
    {
      title: "Across the bore at mid-length",
      quantity: NAMES[quantity],
      across: { name: "across, mm", from: -half, to: half },
      up: { name: "height, mm", from: -half, to: half },
      width: 320,
      height: 320,
      round: true,
      logarithmic: quantity === "supersaturation",
    },
  );
}

/** A plumb cut along the axis, window to window, its height stretched. */
export function longFigure(field: VapourField, quantity: SectionQuantity): string {
  const table = longSection(field, quantity);
  return heatMap(
    { ...table, values: shownOf(quantity, table.values) },
    {
      title: "Along the bore, plumb through the axis",
      quantity: NAMES[quantity],
      across: alongAxis(table.width),
      up: { name: "height, mm", from: -0.5e3 * table.height, to: 0.5e3 * table.height },
      height: 200,
      logarithmic: quantity === "supersaturation",
    },
  );
}

/** The wall's temperature unrolled: the bottom in the middle, the top at both edges. */
export function wallFigure(field: VapourField): string {
  const table = wallTable(field);
  return heatMap(
    { ...table, values: table.values.map((t) => t - 273.15) },
    {
      title: "The wall unrolled",
      quantity: "wall, °C",
      across: alongAxis(table.width),
      up: { name: "angle from the bottom, degrees", from: -180, to: 180 },
      height: 240,
    },
  );
}

const alongAxis = (length: number) => ({
  name: "along the light from mid-length, mm",
  from: -0.5e3 * length,
  to: 0.5e3 * length,
});

/** Density, its gradient, gas temperature and supersaturation along the beam at a height in m. */
export function beamFigure(field: VapourField, height: number): string {
  const profile = beamProfile(field, height);
  const one = (name: string, values: Float64Array) => ({ name, curves: [{ name: "", values }] });
  return lineChart(
    `Along the beam, ${Number((1e3 * height).toPrecision(3))} mm above the axis`,
    { name: "along the light from mid-length, mm", x: profile.z.map((z) => 1e3 * z) },
    [
      one("density, m^-3", profile.density),
      one("vertical gradient of density, m^-4", profile.densityGradient),
      one(
        "gas temperature, °C",
        profile.gasTemperature.map((t) => t - 273.15),
      ),
      one("supersaturation", profile.supersaturation),
    ],
  );
}

/** Wall, column density and column gradient while the heater works. */
export function warmUpFigure(series: VapourSeries): string {
  const celsius = (values: Float64Array): Float64Array => values.map((t) => t - 273.15);
  return lineChart(
    "Warm-up",
    { name: "minutes since the heater was switched on", x: series.time.map((t) => t / 60) },
    [
      {
        name: "wall, °C",
        curves: [
          { name: "below", values: celsius(series.bottom) },
          { name: "above", values: celsius(series.top) },
          { name: "ends", values: celsius(series.ends) },
        ],
      },
      { name: "column density, m^-2", curves: [{ name: "", values: series.columnDensity }] },
      { name: "column gradient of the metal, m^-3", curves: [{ name: "", values: series.columnGradient }] },
      { name: "column gradient of the gas, m^-3", curves: [{ name: "", values: series.gasColumnGradient }] },
    ],
  );
}
