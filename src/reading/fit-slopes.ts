/** The Jacobian of the pixel fit: slopes of the curve by differences, slopes of the picture by `renderSlopes`. */
import { type CurveWorkspace, curveWorkspace, fillAtoms, fillPlaces } from "./curve-model.ts";
import type { Geometry } from "./geometry.ts";
import {
  blurOf,
  curveParameters,
  type FitTerm,
  type ParameterName,
  type PixelFitInput,
} from "./fit-parameters.ts";
import { divide, placesOf, scaled } from "./pixel-loops.ts";
import { type CurveSlope, renderSlopes, SHAPE_SLOPES } from "./pixel-slopes.ts";
import { BLOCK, type Turn } from "./slope-loops.ts";
import { storedSlopes } from "./stored-light.ts";

/** Parameters that change what one atom does at a node; the others only change where light goes and how much is left. */
const ATOMS: ReadonlySet<ParameterName> = new Set(["column density", "line 1", "line 2", "strength ratio"]);

/** Slopes of model/σ at all pixels, in all parameters. */
export interface SlopeWriter {
  /**
   * Adds the products of the slopes' columns, (j, i) with i ≤ j at j · terms + i, and those with the residuals.
   * @param rootWeights square roots of the residuals' weights, which rows are multiplied by; null where all are 1
   */
  addProducts(
    p: Float64Array,
    residuals: Float64Array,
    rootWeights: Float64Array | null,
    gram: Float64Array,
    moment: Float64Array,
  ): void;
  /** writes them column by column, each as long as out.length/terms, for the parameters that products were asked for last */
  write(out: Float64Array): void;
}

/**
 * @param sigma standard deviation of each pixel
 * @param values scratch for the values of all parameters
 */
export function slopeWriter(
  input: PixelFitInput,
  sigma: Float64Array,
  values: Record<ParameterName, number>,
): SlopeWriter {
  const { frame, setting, terms, pixels, noise } = input;
  const count = pixels.length;
  const index = placesOf(pixels, frame.columns * frame.rows);
  const shapes: readonly string[] = SHAPE_SLOPES;
  const curveTerms = terms.filter(
    ({ name }) => name !== "background" && name !== "brightness" && !shapes.includes(name),
  );
  const base = curveWorkspace(setting);
  /** shares what one atom does with `base` */
  const moved: CurveWorkspace = { ...base, curve: emptyCurve(base) };
  const movedAtoms = curveWorkspace(setting);
  const slopes: CurveSlope[] = curveTerms.map(() => emptyCurve(base));
  const stride = 1 + curveTerms.length + SHAPE_SLOPES.length;
  const slots = Int32Array.from(terms, (term) => slotOf(term, curveTerms));
  const { loops } = input.scratch;
  const stageSize = (terms.length + 4) * (BLOCK + terms.length + 4);
  const spare = 40 * count + 8 * stageSize + 4 * terms.length + 128;
  const anchors = setting.anchors.length;
  let drawn: Drawn | undefined;
  const draw = (p: Float64Array): Drawn => {
    terms.forEach((term, k) => {
      values[term.name] = p[k];
    });
    fillAtoms(setting, curveParameters(values, anchors), base);
    fillPlaces(setting, curveParameters(values, anchors), base);
    curveTerms.forEach((term, k) => {
      const work = ATOMS.has(term.name) ? movedAtoms : moved;
      const here = values[term.name];
      const step = here + term.step <= term.upper ? term.step : -term.step;
      values[term.name] = here + step;
      const parameters = curveParameters(values, anchors);
      values[term.name] = here;
      if (work === movedAtoms) fillAtoms(setting, parameters, work);
      fillPlaces(setting, parameters, work);
      difference(work.curve.place, base.curve.place, step, slopes[k].place);
      difference(work.curve.light, base.curve.light, step, slopes[k].light);
    });
    const geometry: Geometry = {
      columns: frame.columns,
      rows: frame.rows,
      roll: values.roll,
      smile: values.smile,
    };
    const { light, room } = renderSlopes(base.curve, slopes, geometry, blurOf(values, input.slitWidth), {
      index,
      count,
      every: input.every,
      loops,
      spare,
    });
    const weight = room.doubles(count);
    const weightDark = room.doubles(count);
    storedSlopes(light, stride, values.background, noise.perLight, input.stored, weight, weightDark);
    divide(weight, sigma);
    divide(weightDark, sigma);
    const job = { light, stride, slots: room.words(slots), perBrightness: 1 / values.brightness };
    return {
      plain: { ...job, weight, weightDark, stage: room.doubles(stageSize) },
      weight: room.doubles(count),
      weightDark: room.doubles(count),
      rhs: room.doubles(count),
    };
  };
  return {
    addProducts(p, residuals, rootWeights, gram, moment) {
      drawn = draw(p);
      const { plain, weight, weightDark, rhs } = drawn;
      scaled(plain.weight, rootWeights, weight);
      scaled(plain.weightDark, rootWeights, weightDark);
      scaled(residuals, rootWeights, rhs);
      loops.addProducts({ ...plain, weight, weightDark }, rhs, gram, moment);
    },
    write(out) {
      if (drawn === undefined) throw new Error("columns of slopes were asked for before their products");
      loops.turn(drawn.plain, out, out.length / terms.length);
    },
  };
}

/** What has been drawn at one point, in the room of the loops. */
interface Drawn {
  readonly plain: Turn;
  /** weights of the rows, times those of a robust loss, and residuals likewise */
  readonly weight: Float64Array;
  readonly weightDark: Float64Array;
  readonly rhs: Float64Array;
}

/**
 * Place of a parameter's slope among those of a pixel; the light itself stands first and is brightness's own slope. −1 for
 * the background, which has none.
 */
function slotOf(term: FitTerm, curveTerms: readonly FitTerm[]): number {
  if (term.name === "background") return -1;
  if (term.name === "brightness") return 0;
  const shape = (SHAPE_SLOPES as readonly string[]).indexOf(term.name);
  return shape >= 0 ? 1 + curveTerms.length + shape : 1 + curveTerms.indexOf(term);
}

function emptyCurve({ curve }: CurveWorkspace): CurveWorkspace["curve"] {
  const size = curve.place.length;
  return { ...curve, place: new Float64Array(size), light: new Float64Array(size) };
}

function difference(moved: Float64Array, base: Float64Array, step: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = (moved[i] - base[i]) / step;
}
