/** What `vapour` says of a setup: numbers as one document, and in words. */
import { formatQuantity } from "../quantity/index.ts";
import { forecastFog, type Setup, type SolutionStage, type VapourStage } from "../setup/index.ts";
import {
  drySupersaturation,
  metalBudget,
  readyTime,
  type ShellState,
  type VapourSeries,
  type WarmUp,
  wallReadings,
} from "../vessel/index.ts";
import { digits, table } from "./output.ts";
import { provenanceOf } from "./provenance.ts";

/** Wall, heat and warm-up of a setup with a heater. */
function shellResult(state: ShellState, warm: WarmUp) {
  return {
    wall: wallReadings(state),
    balance: state.balance,
    readyAfter: readyTime(warm),
    warmUp: { time: warm.time, bottom: warm.bottom, top: warm.top, ends: warm.ends, outlet: warm.outlet },
  };
}

/** Metal in motion and where it settles, of a vessel whose wall is wet with it. */
function metalResult({ field }: VapourStage) {
  const budget = metalBudget(field);
  return {
    inFlight: budget.inFlight,
    evaporation: budget.evaporation,
    liquidReturn: budget.liquidReturn,
    solidLoss: budget.solidLoss,
    crustGrowth: budget.crustGrowth,
    windowTemperature: field.wall.window,
    windowDewPoint: budget.windowDewPoint,
    windowGrowth: budget.windowGrowth,
  };
}

/** The wet part of the wall, where the setup states one. */
function wetResult({ field }: VapourStage) {
  const { wet, input, grid } = field;
  if (wet === undefined) return {};
  const half = input.length / 2;
  let area = 0;
  wet.forEach((share, w) => {
    const k = Math.floor(w / grid.angular);
    area += (share * (grid.zFaces[k + 1] - grid.zFaces[k])) / (grid.angular * input.length);
  });
  return {
    wetWall: {
      strip: input.wet?.strip ?? 2 * Math.PI,
      from: Math.max(-half, input.wet?.from ?? -half),
      to: Math.min(half, input.wet?.to ?? half),
      share: area,
      drySupersaturation: drySupersaturation(field)?.supersaturation ?? 0,
    },
  };
}

/** How the prism stands and what its solvent does; the dye's part is a matter of the wavelength: see `forecast`. */
function prismResult(setup: Setup, { solution, middle, columns }: SolutionStage) {
  const centre = Float64Array.of(setup.path.centreWavelength);
  const [deflection] = solution.dyed(centre).deflection;
  return {
    deviation: solution.aim,
    incidence: solution.incidence,
    path: solution.medium.density > 0 ? middle.columnDensity / solution.medium.density : 0,
    thinnest: columns.columnDensity.reduce((a, b) => Math.min(a, b)) / (solution.medium.density || 1),
    dyeDeflection: deflection,
    outerFaces: solution.faces,
  };
}

export function vapourResult(setup: Setup, stage: VapourStage, warm?: WarmUp, series?: VapourSeries) {
  const { numbers, middle, columns } = stage;
  const fog = forecastFog(stage, []);
  return {
    onAxis: { density: numbers.density, gasTemperature: numbers.gasTemperature },
    columnDensity: middle.columnDensity,
    columnGradient: middle.columnGradient,
    gasColumnGradient: middle.gasColumnGradient,
    scaleHeight: Number.isFinite(numbers.scaleHeight) ? numbers.scaleHeight : null,
    supersaturation: Math.max(...columns.supersaturation),
    fog: {
      chance: fog.chance,
      columnDensity: fog.columnDensity,
      columnGradient: fog.columnGradient,
      confidence: fog.confidence,
    },
    hotPressure: numbers.hotPressure,
    rayleigh: numbers.rayleigh,
    knudsen: numbers.knudsen,
    chargeLife: numbers.chargeLife,
    ...(stage.field.regime === "stated" ? {} : { metal: metalResult(stage) }),
    ...wetResult(stage),
    ...(stage.solution === undefined ? {} : { prism: prismResult(setup, stage) }),
    beam: {
      height: columns.heights,
      columnDensity: columns.columnDensity,
      columnGradient: columns.columnGradient,
      gasColumnGradient: columns.gasColumnGradient,
    },
    ...(stage.shell === undefined || warm === undefined ? {} : { shell: shellResult(stage.shell, warm) }),
    ...(series === undefined ? {} : { series: seriesResult(series) }),
    warnings: numbers.warnings,
    provenance: provenanceOf(setup),
  };
}

function seriesResult({ fields: _fields, ...rest }: VapourSeries) {
  return rest;
}

export function vapourWords(result: ReturnType<typeof vapourResult>): string {
  return result.prism === undefined ? metalWords(result) : prismWords(result, result.prism);
}

function prismWords(
  { onAxis, columnDensity }: ReturnType<typeof vapourResult>,
  prism: ReturnType<typeof prismResult>,
): string {
  return table([
    ["dye molecules", `${digits(onAxis.density)} m-3`],
    ["temperature of the solution", formatQuantity(onAxis.gasTemperature, "K", { as: "degC" })],
    ["way in the liquid, middle of the beam", formatQuantity(prism.path, "m", { digits: 3 })],
    ["the same at the thin side of the beam", formatQuantity(prism.thinnest, "m", { digits: 3 })],
    ["molecules along the light", `${digits(columnDensity)} m-2`],
    ["incidence on the first face", formatQuantity(prism.incidence, "rad", { as: "deg" })],
    ["the solvent turns the light by", formatQuantity(prism.deviation, "rad", { digits: 4 })],
    ["light that the outer faces let pass", `${digits(100 * prism.outerFaces, 3)} %`],
    ["the dye turns it further by", formatQuantity(prism.dyeDeflection, "rad", { digits: 3 })],
  ]);
}

function metalWords(result: ReturnType<typeof vapourResult>): string {
  const band = ([low, high]: readonly [number, number], unit: string): string =>
    `${digits(low, 3)} to ${digits(high, 3)} ${unit}`;
  const rows = [
    ["density at the beam", `${digits(result.onAxis.density)} m-3`],
    ["gas temperature there", formatQuantity(result.onAxis.gasTemperature, "K", { as: "degC" })],
    ["column density", `${digits(result.columnDensity)} m-2`],
    ["with fog, anything from", band(result.fog.columnDensity, "m-2")],
    ["column gradient", `${digits(result.columnGradient)} m-3`],
    ["with fog, anything from", band(result.fog.columnGradient, "m-3")],
    ["column gradient of the gas", `${digits(result.gasColumnGradient)} m-3`],
    ["scale height", result.scaleHeight === null ? "level" : formatQuantity(result.scaleHeight, "m")],
    ["largest supersaturation on the beam", digits(result.supersaturation, 3)],
    ["fog", result.fog.chance === "none" ? "not expected" : result.fog.chance],
    ["pressure while hot", formatQuantity(result.hotPressure, "Pa")],
    ["Rayleigh number", digits(result.rayleigh, 3)],
    ["Knudsen number", digits(result.knudsen, 3)],
    [
      "charge lasts",
      result.chargeLife === null
        ? "no end in sight: no charge stated, or the metal runs back"
        : `${digits(result.chargeLife / 3600, 3)} h`,
    ],
  ];
  if (result.wetWall !== undefined) rows.push(...wetRows(result.wetWall));
  if (result.shell !== undefined) rows.push(...shellRows(result.shell));
  return [table(rows), ...result.warnings.map((warning) => `${warning.level}: ${warning.sentence}`)].join(
    "\n",
  );
}

function wetRows(wet: NonNullable<ReturnType<typeof wetResult>["wetWall"]>): string[][] {
  const around =
    wet.strip < 2 * Math.PI ? `${digits((wet.strip * 180) / Math.PI, 3)}° around the bottom` : "all round";
  const mm = (metres: number): string => `${digits(metres * 1e3, 3)} mm`;
  return [
    [
      "wall wet with metal",
      `${around}, from ${mm(wet.from)} to ${mm(wet.to)}: ${digits(100 * wet.share, 2)} % of it; the rest is dry`,
    ],
    ["largest supersaturation on the dry wall", digits(wet.drySupersaturation, 3)],
  ];
}

function shellRows({ wall, balance, readyAfter }: ReturnType<typeof shellResult>): string[][] {
  const celsius = (kelvin: number): string => formatQuantity(kelvin, "K", { as: "degC" });
  const watts = (value: number): string => `${digits(value, 3)} W`;
  const outlet = (name: string, kelvin: number | null): string[][] =>
    kelvin === null ? [] : [[`liquid leaves the ${name} at`, celsius(kelvin)]];
  return [
    ["wall below, at mid-length", celsius(wall.bottom)],
    ["wall above, at mid-length", celsius(wall.top)],
    ["wall at the windows", celsius(wall.ends)],
    ["heat into the wall", watts(balance.heater)],
    ["lost below", watts(balance.strip)],
    ["lost above", watts(balance.top)],
    ["lost at the ends", watts(balance.ends)],
    ["of these to liquid", watts(balance.liquid)],
    ["still warming the tube", watts(Math.abs(balance.stored) < 1e-3 ? 0 : balance.stored)],
    ...outlet("top", balance.topOutlet),
    ...outlet("ends", balance.endOutlet),
    [
      "steady",
      readyAfter === null
        ? "not within four hours"
        : `ready after ${digits(readyAfter / 60, 3)} min from cold`,
    ],
  ];
}
