/**
 * The forecast as numbers, without a picture: the vapour on a coarse grid, the gap and the bend of each line in view,
 * what slits and sensor make of them. For tables, tolerances and choosing; for a picture use `forecast`.
 */
import { closedFormGap, perAtom, type VapourState } from "../medium/index.ts";
import {
  beamInputs,
  type ImageScale,
  imageScale,
  mapInputs,
  type SpectralMap,
  spectralMap,
} from "../path/index.ts";
import { type Line, linesOf } from "../reference/index.ts";
import {
  type LineGap,
  lineGap,
  type Setup,
  type VapourStage,
  vapourStage,
  linesIn,
  stateOf,
} from "../setup/index.ts";
import { COARSE_GRID, type GridSize } from "../vessel/index.ts";
import { wavelengthBlur } from "./curve-findings.ts";
import { USUAL_RAMP } from "./limits.ts";
import { type Screen, screenView } from "./screen.ts";

/** Factors on what is known only from elsewhere; 1 where the published value holds. */
export interface Knowledge {
  /** on the vapour pressure */
  readonly pressure?: number;
  /** on every oscillator strength */
  readonly strength?: number;
  /** on the width by the buffer gas */
  readonly gasWidth?: number;
}

/** Lengths in m, temperatures in K; null where there is no second line, or no line at all. */
export interface Outcome {
  /** id of the line whose curve stands tallest; null where none is in view */
  readonly line: string | null;
  readonly wavelength: number | null;
  /** deflection at the gap's edge, rad, without sign */
  readonly deflection: number | null;
  /** the same on the sensor */
  readonly height: number | null;
  /** height over the thickness of the drawn line, 1 */
  readonly heightTimes: number | null;
  /** distance from the line at which half the light is left */
  readonly halfGap: number | null;
  /** half-gap over the blur in wavelength, 1 */
  readonly gapTimes: number | null;
  /** distance of the first two lines on the sensor */
  readonly pairDistance: number | null;
  /** distance of the first two lines over the blur in wavelength, 1 */
  readonly pairTimes: number | null;
  /** share of the way between the pair that stays bright, 1 */
  readonly bridge: number | null;
  /** width of that bright bridge on the sensor */
  readonly bridgeWidth: number | null;
  /** that bridge on the screen in smallest details an eye tells apart from the last row, 1; null where no screen is asked about */
  readonly bridgeDetails: number | null;
  /** luminance of the cold line on the screen, cd/m²; null where no screen is asked about */
  readonly screenLuminance: number | null;
  /** atoms on the beam at mid-length, m⁻³ */
  readonly density: number;
  /** m⁻² */
  readonly columnDensity: number;
  /** m⁻³, with its sign */
  readonly columnGradient: number;
  /** at mid-length on the beam, 1 */
  readonly supersaturation: number;
  readonly rayleigh: number;
  /** metal that settles and does not run back, kg/s */
  readonly metalLoss: number;
  /** temperature of the metal, K */
  readonly bottom: number;
  /** shortest warm-up from 20 °C at the usual rate for windows and seals, s */
  readonly warmUp: number;
  /** displacement on the sensor at `readAt`, m: half the difference blue minus red; null where that is not asked for */
  readonly reading: number | null;
}

export interface QuickOptions {
  /** default COARSE_GRID: columns within 1 % of the default grid */
  readonly grid?: GridSize;
  /** where the height of the curve is read: a line, and a distance from it in m */
  readonly readAt?: { readonly line: string; readonly distance: number };
  /** a screen on which the picture is thrown */
  readonly screen?: Screen;
}

export type Quick = (setup: Setup, knowledge?: Knowledge) => Outcome;

const TOLERANCE = 1e-5;

/**
 * A function from a setup to its outcome. It keeps the last vapour and the last spectral map for a next setup that
 * shares them, which changes no result. Throws a Refusal where the setup is outside what the physics can answer.
 */
export function quickForecast(options: QuickOptions = {}): Quick {
  const vapourOf = keepLast(
    (setup: Setup) => vapourStage(setup, { grid: options.grid ?? COARSE_GRID, tolerance: TOLERANCE }),
    vapourKey,
  );
  const mapOf = keepLast((setup: Setup) => spectralMap(setup.path), mapKey);
  let seen: Seen | undefined;
  return (setup, knowledge = {}) => {
    const vapour = vapourOf(setup);
    const map = mapOf(setup);
    const lines = linesInView(setup, map);
    const key = JSON.stringify([knowledge, lines.map((line) => line.id)]);
    if (seen?.vapour !== vapour || seen.key !== key)
      seen = { vapour, key, ...seenThrough(vapour, knowledge, lines) };
    return outcomeOf(setup, seen, { map, scale: imageScale(setup.path, map) }, options);
  };
}

function keepLast<T>(make: (setup: Setup) => T, keyOf: (setup: Setup) => string): (setup: Setup) => T {
  let last: { readonly key: string; readonly value: T } | undefined;
  return (setup) => {
    const key = keyOf(setup);
    if (last?.key !== key) last = { key, value: make(setup) };
    return last.value;
  };
}

function vapourKey({ vessel, medium, path }: Setup): string {
  return JSON.stringify([vessel, medium, beamInputs(path)]);
}

function mapKey({ path }: Setup): string {
  return JSON.stringify(mapInputs(path));
}

type Sensor = { readonly map: SpectralMap; readonly scale: ImageScale };

/** What the vapour does to the lines in view, before any lens. */
interface Seen {
  readonly vapour: VapourStage;
  readonly key: string;
  readonly pressure: number;
  readonly state: VapourState;
  readonly columnDensity: number;
  readonly columnGradient: number;
  readonly gaps: readonly LineGap[];
}

function seenThrough(
  vapour: VapourStage,
  knowledge: Knowledge,
  lines: readonly Pick<Line, "id" | "wavelength">[],
): Omit<Seen, "vapour" | "key"> {
  const pressure = knowledge.pressure ?? 1;
  const state = knownState(stateOf(vapour, "a quick forecast"), knowledge);
  const columnDensity = vapour.middle.columnDensity * pressure;
  const columnGradient = vapour.middle.columnGradient * pressure;
  const gaps = lines.map((line) => quickGap(state, line, columnDensity, columnGradient));
  return { pressure, state, columnDensity, columnGradient, gaps };
}

function outcomeOf(setup: Setup, seen: Seen, sensor: Sensor, { readAt, screen }: QuickOptions): Outcome {
  const { vapour, pressure, state, columnDensity, columnGradient, gaps } = seen;
  const { scale } = sensor;
  const tallest = gaps.reduce<LineGap | undefined>(
    (best, gap) =>
      best === undefined || Math.abs(gap.edgeDeflection) > Math.abs(best.edgeDeflection) ? gap : best,
    undefined,
  );
  const { numbers } = vapour;
  const common = {
    density: numbers.density * pressure,
    columnDensity,
    columnGradient,
    supersaturation: numbers.midSupersaturation,
    rayleigh: numbers.rayleigh,
    metalLoss: numbers.solidLoss * pressure,
    bottom: setup.vessel.wall.bottom,
    warmUp: Math.max(0, setup.vessel.wall.bottom - ROOM) / USUAL_RAMP.value,
    reading: readAt === undefined ? null : readingAt(state, columnGradient, scale, readAt),
  };
  if (tallest === undefined) return { ...NO_LINE, ...common };
  const deflection = Math.abs(tallest.edgeDeflection);
  const height = deflection * Math.abs(scale.perRadian);
  const thickness = Math.hypot(scale.levelSlitHeight, FWHM * scale.blurHeight, setup.camera.pixel);
  const blur = wavelengthBlur(setup, sensor, tallest.wavelength).width;
  return {
    line: tallest.line,
    wavelength: tallest.wavelength,
    deflection,
    height,
    heightTimes: height / thickness,
    halfGap: tallest.halfGap,
    gapTimes: tallest.halfGap / blur,
    ...thrown(setup, sensor, screen, pairOf(setup, sensor, gaps), tallest.wavelength),
    ...common,
  };
}

const FWHM = 2 * Math.sqrt(2 * Math.LN2);

/** K */
const ROOM = 293.15;

const NO_PAIR = { pairDistance: null, pairTimes: null, bridge: null, bridgeWidth: null } as const;

const NO_LINE = {
  line: null,
  wavelength: null,
  deflection: null,
  height: null,
  heightTimes: null,
  halfGap: null,
  gapTimes: null,
  ...NO_PAIR,
  bridgeDetails: null,
  screenLuminance: null,
} as const;

type Pair = Pick<Outcome, "pairDistance" | "pairTimes" | "bridge" | "bridgeWidth">;

/** The pair as an audience sees it. */
function thrown(
  setup: Setup,
  { map }: Sensor,
  screen: Screen | undefined,
  pair: Pair,
  wavelength: number,
): Pair & Pick<Outcome, "bridgeDetails" | "screenLuminance"> {
  if (screen === undefined) return { ...pair, bridgeDetails: null, screenLuminance: null };
  const { magnification, luminance, detail } = screenView(setup, map, wavelength, screen);
  return {
    ...pair,
    bridgeDetails: pair.bridgeWidth === null ? null : (pair.bridgeWidth * magnification) / detail,
    screenLuminance: luminance,
  };
}

function pairOf(setup: Setup, sensor: Sensor, gaps: readonly LineGap[]): Pair {
  const [first, second] = gaps;
  if (first === undefined || second === undefined) return NO_PAIR;
  const apart = second.wavelength - first.wavelength;
  const blur = wavelengthBlur(setup, sensor, (first.wavelength + second.wavelength) / 2).width;
  const pairDistance = Math.abs(
    sensor.map.position(second.wavelength) - sensor.map.position(first.wavelength),
  );
  const bridge = Math.max(0, 1 - (first.halfGap + second.halfGap) / apart);
  return { pairDistance, pairTimes: apart / blur, bridge, bridgeWidth: bridge * pairDistance };
}

/** The state with the factors of knowledge laid on it. */
function knownState(
  state: VapourState,
  { pressure = 1, strength = 1, gasWidth = 1 }: Knowledge,
): VapourState {
  if (pressure === 1 && strength === 1 && gasWidth === 1) return state;
  const { overrides = {}, gas } = state;
  const strengths = linesOf(state.element).map(
    (line) =>
      [line.id, (overrides.oscillatorStrength?.[line.id] ?? line.oscillatorStrength) * strength] as const,
  );
  return {
    ...state,
    density: state.density * pressure,
    // The width by the gas goes as its pressure: one factor serves for both ways of stating it.
    ...(gas === undefined || overrides.gasWidth !== undefined
      ? {}
      : { gas: { ...gas, pressure: gas.pressure * gasWidth } }),
    overrides: {
      ...overrides,
      oscillatorStrength: Object.fromEntries(strengths),
      ...(overrides.gasWidth === undefined ? {} : { gasWidth: overrides.gasWidth * gasWidth }),
    },
  };
}

/** Lines of the metal that fall on the sensor, by wavelength. */
export function linesInView(setup: Setup, map: SpectralMap): readonly { id: string; wavelength: number }[] {
  const half = (setup.camera.columns * setup.camera.pixel) / 2;
  const from = map.wavelengthAt(Math.max(-half, map.reach.left));
  const to = map.wavelengthAt(Math.min(half, map.reach.right));
  return linesIn(setup)
    .filter((line) => line.wavelength > from && line.wavelength < to)
    .sort((a, b) => a.wavelength - b.wavelength);
}

const STEPS = 10;
const CLOSE = 1e-5;

/**
 * Gap and bend of one line as `lineGap` gives them, in a twentieth of the time: secant steps on the logarithm of the
 * detuning, where absorption in the wing is a straight line. Light lost to the other lines counts too (it widens the gaps
 * of the stored example setups by less than 0.6 %). Where the edge lies in the core and the steps do not settle, `lineGap` answers.
 */
export function quickGap(
  state: VapourState,
  line: { readonly id: string; readonly wavelength: number },
  columnDensity: number,
  columnGradient: number,
): LineGap {
  const start = closedFormGap(state, line.id, columnDensity);
  const at = new Float64Array(2);
  const log = Float64Array.of(Math.log(start), Math.log(start));
  const lastLog = new Float64Array(2);
  const lastExcess = new Float64Array(2);
  for (let step = 0; step < STEPS; step++) {
    at[0] = line.wavelength - Math.exp(log[0]);
    at[1] = line.wavelength + Math.exp(log[1]);
    const { refractivityPerDensity, crossSection } = perAtom(state, at);
    let largest = 0;
    for (let side = 0; side < 2; side++) {
      const excess = Math.log((columnDensity * crossSection[side]) / Math.LN2);
      let slope = step === 0 ? -2 : (excess - lastExcess[side]) / (log[side] - lastLog[side]);
      if (!(slope < -0.5)) slope = -2;
      lastExcess[side] = excess;
      lastLog[side] = log[side];
      log[side] -= excess / slope;
      largest = Math.max(largest, Math.abs(excess));
    }
    if (!(largest < 50)) break;
    if (largest < CLOSE) {
      return {
        line: line.id,
        wavelength: line.wavelength,
        halfGap: (at[1] - at[0]) / 2,
        edgeDeflection: ((refractivityPerDensity[0] - refractivityPerDensity[1]) / 2) * columnGradient,
      };
    }
  }
  return lineGap(state, line, columnDensity, columnGradient);
}

function readingAt(
  state: VapourState,
  columnGradient: number,
  scale: ImageScale,
  readAt: { line: string; distance: number },
): number | null {
  const line = linesOf(state.element).find((each) => each.id === readAt.line);
  if (line === undefined) return null;
  const { refractivityPerDensity } = perAtom(
    state,
    Float64Array.of(line.wavelength - readAt.distance, line.wavelength + readAt.distance),
  );
  return (
    ((refractivityPerDensity[0] - refractivityPerDensity[1]) / 2) * columnGradient * Math.abs(scale.perRadian)
  );
}
