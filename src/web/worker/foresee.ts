/**
 * From a setup to everything the page shows of it: the core's three stages, each kept while its inputs have not
 * changed. A coarse answer has a coarser vapour grid, no camera noise, and larger pixels on a machine that cannot keep up; the exact one is the core's
 * own forecast.
 */
import { type OpticalResponse, vacuumToAir, vapourResponse } from "../../medium/index.ts";
import {
  createWorkspace,
  type Frame,
  layBeside,
  lightOfFrame,
  type Stretch,
  viewImage,
} from "../../picture/index.ts";
import { beamInputs, mapInputs, type SpectralMap, spectralMap } from "../../path/index.ts";
import {
  coldCurve,
  type CurveStage,
  curvePoints,
  curveStage,
  type Examined,
  examineFields,
  fingerprint,
  type Forecast,
  type JsonObject,
  lightOf,
  metalStage,
  PROGRAM_VERSION,
  type Setup,
  type VapourStage,
} from "../../setup/index.ts";
import {
  COARSE_GRID,
  crossSection,
  DEFAULT_GRID,
  longSection,
  type VapourField,
} from "../../vessel/index.ts";
import { Faults } from "./faults.ts";
import { binned } from "./binned.ts";
import type { Shares } from "./dark.ts";
import type { ForeseeRequest, Foreseen, Sight, SightCurve, SightPicture } from "./protocol.ts";
import { raysOf } from "./rays.ts";
import { onlyRed } from "./red.ts";
import type { Screen } from "./screen.ts";
import { drawn } from "./drawn.ts";
import { LAST_MINUTE } from "./minutes.ts";
import type { frameOf as toFrame } from "./frame.ts";
import type { mosaicView as mosaic } from "./mosaic.ts";

/** Residual of the vapour's solver that a dragged picture cannot tell from zero. */
const COARSE_TOLERANCE = 1e-4;
/**
 * Time a dragged picture may take to lay down and colour, ms. Pixels grow when three pictures running took longer, and after a while
 * finer ones are tried again: only a camera of many pixels on a slow machine comes to that.
 */
const FRAME_TIME = 40;

/** Slices of the beam in a coarse picture: the curve blurs as with nine to within what moves while it is dragged. */
const COARSE_SLICES = 5;
const TRIED_AGAIN = 20;
/** Boxes each way of the cut across the bore. */
const ACROSS = 72;
const LARGEST_BIN = 4;
/** How bright the cold line is drawn beside the hot curve. */
const COLD_BESIDE_HOT = 0.4;

const workspace = createWorkspace();
/** pixels of the camera that make one of a dragged picture, each way */
let bin = 1;
/** pictures since the pixels last changed that took too long, or quick enough, one after the other */
let slow = 0;
let quick = 0;
const kept: {
  map?: { key: string; map: SpectralMap };
  vapour?: { key: string; stage: VapourStage };
  field?: VapourField;
  cold?: { key: string | undefined; light: Float32Array; bright: Stretch };
  /** where the light went, as told last */
  shares?: Shares;
} = {};

interface ForeseeOptions {
  /** canvas on which coarse pictures are drawn instead of going back with the answer */
  readonly screen?: Screen | undefined;
  /** pixels of the camera, each way, that make one of a dragged picture at most; 1 keeps the full picture */
  readonly largestBin?: number;
}

export async function foresee(request: ForeseeRequest, options: ForeseeOptions = {}): Promise<Foreseen> {
  const { setup, faults } = await examined(request.setup as JsonObject);
  if (setup === undefined) throw new Faults(faults);
  const coarse = request.precision === "coarse";
  const vapour = await vapourOf(setup, coarse, setup.shell === undefined ? null : request.minute);
  const drawn = coarse ? binned(setup, bin) : setup;
  const curve = curveStage(drawn, vapour, mapOf(setup), request.wanted === "all");

  const mosaic = !coarse && setup.camera.sensor?.filter === "bayer" ? await import("./mosaic.ts") : undefined;
  const storing = coarse ? undefined : await import("./frame.ts");
  const began = performance.now();
  const picture = pictureOf(drawn, curve, request, {
    frameOf: storing?.frameOf,
    mosaicView: mosaic?.mosaicView,
  });
  const { columns, rows } = drawn.camera;
  const dark = request.tints ? await tinted(picture.rgba, drawn, vapour, curve, request) : undefined;
  const screen = coarse ? options.screen : undefined;
  screen?.show(columns, rows, picture.rgba);
  if (coarse) adapt(performance.now() - began, options.largestBin ?? LARGEST_BIN);
  const shown: SightPicture = {
    columns,
    rows,
    // What lies in the workspace is used again: only a copy may leave.
    rgba: screen === undefined ? picture.rgba.slice() : undefined,
  };
  if (request.wanted === "picture") return { picture: shown, sight: undefined };

  const said =
    picture.frame === undefined ? undefined : await words(setup, vapour, curve, picture.light, picture.frame);
  return { picture: shown, sight: sightOf(setup, request.precision, vapour, curve, { said, dark }) };
}

/** Few heat by a stated power: what balances it is fetched when one does. */
async function examined(document: JsonObject): Promise<Examined> {
  const found = examineFields(document);
  return found.setup?.shell === undefined ? found : (await import("./warm.ts")).inBalance(found);
}

/** Everything that stands around the picture. */
function sightOf(
  setup: Setup,
  precision: Sight["precision"],
  vapour: VapourStage,
  curve: CurveStage,
  { said, dark }: Pick<Sight, "said" | "dark">,
): Sight {
  const points = curveOf(setup, curve, vapour);
  const { numbers } = vapour;
  return {
    setup,
    precision,
    curve: points,
    rays: raysOf(points, setup),
    lines: curve.lines.map((line) => ({
      label: line.line,
      wavelength: line.wavelength,
      halfGap: line.halfGap,
      edgeDeflection: line.edgeDeflection,
    })),
    zeroBetweenLines: curve.zeroBetweenLines,
    radPerRow: setup.camera.pixel / curve.scale.perRadian,
    imageInverted: setup.path.inverted,
    onAxis: {
      density: numbers.density,
      temperature: numbers.gasTemperature,
      scaleHeight: numbers.scaleHeight,
    },
    columnDensity: vapour.middle.columnDensity,
    columnGradient: vapour.middle.columnGradient,
    supersaturation: numbers.midSupersaturation,
    rayleigh: numbers.rayleigh,
    knudsen: numbers.knudsen,
    chargeLife: numbers.chargeLife,
    cross: drawn(crossSection(vapour.field, "density", ACROSS)),
    long: drawn(longSection(vapour.field, "density")),
    dark,
    lastMinute: setup.shell === undefined ? undefined : LAST_MINUTE,
    said,
  };
}

/** Findings and cautions; their rules and tables are fetched when the first picture already stands. */
async function words(
  setup: Setup,
  vapour: VapourStage,
  curve: CurveStage,
  light: Float32Array,
  frame: Frame,
): Promise<Sight["said"]> {
  const { sayAbout } = await import("./say.ts");
  return sayAbout(whole(setup, vapour, curve, light, frame));
}

/**
 * Lays where the light went over a picture; its rules are fetched when they are first asked for. While a hand drags, the shares are
 * worked out as often as the numbers beside them, and lie over the pictures between as they were.
 */
async function tinted(
  rgba: Uint8ClampedArray,
  setup: Setup,
  vapour: VapourStage,
  curve: CurveStage,
  { wanted, red }: ForeseeRequest,
): Promise<Sight["dark"]> {
  const { sharesOf, tintPicture } = await import("./dark.ts");
  if (wanted === "all" || kept.shares?.columns.columns !== setup.camera.columns)
    kept.shares = sharesOf({ setup, vapour, curve });
  tintPicture(rgba, kept.shares.columns, red, workspace);
  if (red) onlyRed(rgba);
  return kept.shares.dark;
}

/** The stages put together as the core's own forecast. */
function whole(
  setup: Setup,
  vapour: VapourStage,
  curve: CurveStage,
  light: Float32Array,
  frame: Frame,
): Forecast {
  return {
    setup,
    vapour,
    curve,
    light,
    frame,
    provenance: {
      program: PROGRAM_VERSION,
      setup: fingerprint(setup),
      seed: setup.camera.seed,
      grid: vapour.field.size,
    },
  };
}

function mapOf(setup: Setup): SpectralMap {
  const { path } = setup;
  const key = JSON.stringify(mapInputs(path));
  if (kept.map?.key !== key) kept.map = { key, map: spectralMap(path) };
  return kept.map.map;
}

async function vapourOf(setup: Setup, coarse: boolean, minute: number | null): Promise<VapourStage> {
  // A prism with dye is aimed at the colour in the middle of the picture.
  const aimed = setup.medium.solution === undefined ? null : setup.path.centreWavelength;
  const key = JSON.stringify([coarse, setup.vessel, setup.medium, beamInputs(setup.path), aimed, minute]);
  if (kept.vapour?.key === key) return kept.vapour.stage;
  // A start from the last field is quicker, but leaves a trace in the last digits: one setup must give one exact picture.
  const quick = {
    grid: COARSE_GRID,
    slices: COARSE_SLICES,
    tolerance: COARSE_TOLERANCE,
    ...(kept.field === undefined ? {} : { previous: kept.field }),
  };
  const options = {
    ...(coarse ? quick : { grid: DEFAULT_GRID }),
    ...(minute === null || setup.shell === undefined
      ? {}
      : { shell: (await import("./warm.ts")).shellAt(setup.shell, minute) }),
  };
  // Few open a prism: what it needs is fetched when one does.
  const stage =
    setup.medium.solution === undefined
      ? metalStage(setup, options)
      : (await import("./solution.ts")).vapourStage(setup, options);
  kept.vapour = { key, stage };
  if (coarse) kept.field = stage.field;
  return stage;
}

/** Larger pixels while the machine is behind, smaller again when it has time to spare. */
function adapt(took: number, largestBin: number): void {
  slow = took > FRAME_TIME ? slow + 1 : 0;
  quick = took > FRAME_TIME ? 0 : quick + 1;
  const step = slow >= 3 ? 1 : quick >= TRIED_AGAIN ? -1 : 0;
  if (step === 0) return;
  bin = Math.min(largestBin, Math.max(1, bin + step));
  slow = 0;
  quick = 0;
}

/** @param exact what counts the light of an exact picture, and shows it where a mosaic of filters stands before the sensor */
function pictureOf(
  setup: Setup,
  curve: CurveStage,
  request: ForeseeRequest,
  exact: { readonly frameOf: typeof toFrame | undefined; readonly mosaicView: typeof mosaic | undefined },
): { rgba: Uint8ClampedArray<ArrayBuffer>; light: Float32Array; frame: Frame | undefined } {
  const { camera } = setup;
  const { frameOf, mosaicView } = exact;
  const coarse = request.precision === "coarse";
  const shown = request.show === "cold" ? coldCurve(curve) : curve;
  const cold = request.show === "both" ? coldLight(setup, curve, coarse) : undefined;
  const seenAlone = lightOf(shown, camera, { workspace, into: "workspace" });
  const inWorkspace =
    cold === undefined
      ? seenAlone
      : layBeside(seenAlone, cold.light, COLD_BESIDE_HOT, workspace, cold.bright);
  // Of an exact picture the light is wanted once more, when its colours have taken the workspace.
  const light = coarse ? inWorkspace : inWorkspace.slice();
  // Full brightness is a full pixel, as in the file the camera writes.
  const white = camera.fullWell / (camera.rate * camera.exposure || 1);
  const frame = frameOf?.(light, camera, curve);
  const seen = frame === undefined ? light : lightOfFrame(frame, camera.gamma, camera.blackLevel, white);
  const colours = request.red ? "grey" : request.colours;
  const rgba =
    frame !== undefined && mosaicView !== undefined
      ? mosaicView(frame, camera)
      : viewImage(seen, curve.map, camera, { white, colours, workspace });
  if (request.red) onlyRed(rgba);
  return { rgba, light, frame };
}

/** Light of the cold tube. While a hand drags what the cold tube does not feel, as it was. */
function coldLight(setup: Setup, curve: CurveStage, coarse: boolean): NonNullable<typeof kept.cold> {
  const { path, camera, vessel, medium } = setup;
  // The wavelengths of an exact picture are those of its own hot curve.
  const key =
    coarse && medium.solution === undefined
      ? JSON.stringify([path, camera, vessel.bore, vessel.length])
      : undefined;
  const was = kept.cold;
  if (key !== undefined && key === was?.key) return was;
  const count = camera.columns * camera.rows;
  const into = was?.light.length === count ? was.light : new Float32Array(count);
  const light = lightOf(coldCurve(curve), camera, { workspace, into });
  kept.cold = { key, light, bright: workspace.litStretch };
  return kept.cold;
}

function responseOf(vapour: VapourStage, wavelengths: Float64Array): Omit<OpticalResponse, "wavelength"> {
  return vapour.solution === undefined
    ? vapourResponse(vapour.state, wavelengths)
    : vapour.solution.response(wavelengths);
}

function curveOf(setup: Setup, curve: CurveStage, vapour: VapourStage): SightCurve {
  const points = curvePoints(setup, curve);
  const response = responseOf(vapour, points.wavelength);
  // Where a wavelength stands at half height: the curve's own columns run backwards where a bow of the lines meets a large bend.
  const column = new Float64Array(points.wavelength.length);
  curve.map.positions(points.wavelength, column);
  const { columns, pixel } = setup.camera;
  for (let i = 0; i < column.length; i++) column[i] = columns / 2 + column[i] / pixel;
  return {
    // The core keeps its own arrays; what is handed over must be a copy.
    wavelength: points.wavelength.slice(),
    wavelengthAir: points.wavelength.map((wavelength) => vacuumToAir(wavelength)),
    deflection: points.deflection,
    transmission: points.transmission,
    refractivity: response.refractivity,
    absorption: response.absorption,
    phaseVelocity: response.phaseVelocity,
    groupIndex: response.groupIndex,
    column,
    row: points.row,
  };
}
