/** What `index` says of a metal vapour. */
import {
  type ClassicalComparison,
  classicalComparison,
  type IndexOptions,
  indexTable,
  modelDifference,
  type TuneOut,
  tuneOuts,
  vacuumToAir,
} from "../medium/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { linesOf } from "../reference/index.ts";
import { indexFigure, lineChart } from "../report/index.ts";
import { type Extra, indexCsv, indexRows, type Shown } from "./index-words.ts";
import { digits } from "./output.ts";
import type { SpectroscopeView } from "../path/index.ts";
import { type SpectroscopeOptions, spectroscopeSaid, spectroscopeView } from "./index-spectroscope.ts";

/** One answer in its four forms. */
export interface IndexAnswer {
  readonly document: object;
  readonly words: string;
  readonly csv: string;
  /** refuses where there is no range to draw */
  figure(): string;
  /** further figures by file name, where a vapour stands before a spectroscope */
  readonly more?: Readonly<Record<string, string>>;
}

/** @param spectroscope the layer's options, where the vapour stands before an ordinary spectroscope */
export function vapourAnswer(
  options: IndexOptions,
  shown: Shown,
  twoOscillators: boolean,
  spectroscope?: SpectroscopeOptions,
): IndexAnswer {
  const result = indexTable(options);
  const { saturation: _saturation, ...rest } = result;
  const { element, temperature, density } = result;
  const state = { ...options, temperature, density };
  const counted = (vacuum: number): number => (shown.countedIn === "air" ? vacuumToAir(vacuum) : vacuum);
  const zeros = tuneOuts(state);
  const classical = comparison(element, density, options.wavelengths);
  const difference = twoOscillators ? modelDifference(state, options.wavelengths) : undefined;
  const view =
    spectroscope === undefined ? undefined : spectroscopeView(state, spectroscope, options.wavelengths);
  const extra: readonly Extra[] = [
    ...(difference === undefined
      ? []
      : [
          {
            heading: "n - 1, two oscillators",
            column: "refractivity_two_oscillators",
            values: difference.twoOscillators.refractivity,
          },
        ]),
    ...(view === undefined
      ? []
      : [
          { heading: "light at the slit", column: "light_at_slit", values: view.light },
          { heading: "light seen", column: "light_seen", values: view.seen },
        ]),
  ];
  const nm = (vacuum: number): string => `${(counted(vacuum) * 1e9).toFixed(4)} nm ${shown.countedIn}`;
  const sentences = [
    `${element} at ${formatQuantity(temperature, "K")}, ${digits(density)} m-3; both velocities may exceed c near a line, the front never does`,
    ...zerosSaid(zeros, options.wavelengths).map((zero) => zeroSaid(zero, ownZero(options), nm)),
    ...(classical === undefined
      ? []
      : [
          `at ${nm(classical.wavelength)} one classical electron (f = 1) would give n - 1 = ${digits(classical.classical)}, the published strengths (sum ${digits(classical.strengthSum)}) give ${digits(classical.published)}`,
        ]),
    ...(difference === undefined
      ? []
      : [
          `two oscillators differ from the full model by up to ${digits(difference.largest)} in n - 1, at ${nm(difference.largestAt)}; relative to it by up to ${digits(100 * difference.relative)} %, at ${nm(difference.relativeAt)}`,
        ]),
    ...(view === undefined || spectroscope === undefined ? [] : spectroscopeSaid(view, spectroscope)),
    ...result.warnings.map((warning) => `mind: ${warning.sentence}`),
  ];
  return {
    document: {
      ...rest,
      wavelength: shown.wavelengths,
      medium: shown.countedIn,
      zeros: zeros.map(({ wavelength, standardUncertainty, between, unknownStrengths }) => ({
        wavelength: counted(wavelength),
        standardUncertainty,
        between,
        unknownStrengths,
      })),
      ...(view === undefined ? {} : { spectroscope: view }),
      classical: classical === undefined ? null : { ...classical, wavelength: counted(classical.wavelength) },
      ...(difference === undefined
        ? {}
        : {
            twoOscillators: {
              refractivity: difference.twoOscillators.refractivity,
              absorption: difference.twoOscillators.absorption,
              largest: difference.largest,
              largestAt: counted(difference.largestAt),
              relative: difference.relative,
              relativeAt: counted(difference.relativeAt),
            },
          }),
    },
    words: [indexRows(result, shown, extra), ...sentences].join("\n"),
    csv: indexCsv(result, shown, extra),
    ...(view === undefined || options.wavelengths.length < 2
      ? {}
      : { more: { "layer.svg": layerFigure(view, shown, spectroscope?.lamp) } }),
    figure: () =>
      indexFigure(result, {
        title: `${element} vapour`,
        state: `${formatQuantity(temperature, "K")}, ${powers(density)} m^-3${gasSaid(options)}`,
        shown: shown.wavelengths,
        countedIn: shown.countedIn,
        marks: [
          ...linesOf(element).map((line) => ({
            wavelength: counted(line.wavelength),
            text: (counted(line.wavelength) * 1e9).toFixed(2),
          })),
          ...zeros.map((zero) => ({
            wavelength: counted(zero.wavelength),
            text: `${ownZero(options)} at ${(counted(zero.wavelength) * 1e9).toFixed(3)}`,
          })),
        ],
      }),
  };
}

/** The line as the spectroscope shows it, dark before a lamp, bright without one. */
function layerFigure(
  { light, seen }: SpectroscopeView,
  { wavelengths, countedIn }: Shown,
  lamp?: string,
): string {
  const order = Array.from(wavelengths.keys()).sort((i, j) => wavelengths[i] - wavelengths[j]);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(order, (i) => values[i]);
  return lineChart(
    lamp === undefined ? "The layer alone" : `The layer before a lamp of ${lamp}`,
    { name: `wavelength in ${countedIn}, nm`, x: pick(wavelengths).map((w) => w * 1e9) },
    [
      {
        name: lamp === undefined ? "light, black body as hot as the hottest layer 1" : "light, lamp alone 1",
        curves: [
          { name: "seen", values: pick(seen) },
          { name: "at the slit", values: pick(light) },
        ],
      },
    ],
  );
}

/** A gas beside the metal adds its own index: the zero is the metal's then. */
const ownZero = ({ gas }: IndexOptions): string => (gas === undefined ? "n = 1" : "n = 1 of the metal alone");

/** 5e20 → "5 × 10^20" */
function powers(value: number): string {
  const [lead, power] = value.toExponential(2).split("e+");
  return power === undefined ? digits(value) : `${Number(lead)} \u00d7 10^${power}`;
}

function gasSaid({ gas }: IndexOptions): string {
  return gas === undefined ? "" : `, in ${gas.species} at ${formatQuantity(gas.pressure, "Pa")}`;
}

/** The zeros inside the range, or the nearest where none is. */
function zerosSaid(zeros: readonly TuneOut[], wavelengths: Float64Array): readonly TuneOut[] {
  const low = wavelengths.reduce((least, each) => Math.min(least, each), Infinity);
  const high = wavelengths.reduce((most, each) => Math.max(most, each), 0);
  const inside = zeros.filter(({ wavelength }) => wavelength >= low && wavelength <= high);
  if (inside.length > 0) return inside;
  const middle = (low + high) / 2;
  return [...zeros]
    .sort((a, b) => Math.abs(a.wavelength - middle) - Math.abs(b.wavelength - middle))
    .slice(0, 1);
}

function zeroSaid(zero: TuneOut, name: string, nm: (vacuum: number) => string): string {
  const unknown =
    zero.unknownStrengths.length === 0
      ? ""
      : ` (no uncertainty is published for ${zero.unknownStrengths.length} of the lines)`;
  return `${name} between ${zero.between.join(" and ")} at ${nm(zero.wavelength)}, standard uncertainty ${formatQuantity(zero.standardUncertainty, "m", { as: "pm" })} from the strengths${unknown}`;
}

/** Compared where it means most: at the wavelength farthest from every line. */
function comparison(
  element: string,
  density: number,
  wavelengths: Float64Array,
): (ClassicalComparison & { readonly wavelength: number }) | undefined {
  const lines = linesOf(element);
  const clear = (wavelength: number): number =>
    Math.min(...lines.map((line) => Math.abs(wavelength / line.wavelength - 1)));
  const wavelength = wavelengths.reduce((best, each) => (clear(each) > clear(best) ? each : best));
  // nearer than this the wing is no longer the plain hyperbola that both formulae are
  if (clear(wavelength) < 1e-4) return undefined;
  return { ...classicalComparison(element, density, wavelength), wavelength };
}
