/**
 * Marks set by hand on a photograph: points on the bright curve and the places of the lines. The oldest way to read such
 * a picture, and a check of the program's own: the deflection against the curve that the lines' published strengths draw.
 */
import { metalOf } from "../setup/index.ts";
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { imageScale, spectralMap } from "../path/index.ts";
import type { PixelSize } from "../picture/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import { gasConditions } from "./conditions.ts";
import { atomWavelength } from "./curve-model.ts";
import { linesInView, scaleOfSetup } from "./first-look.ts";
import { evaluateTables, type LineTables, lineTables } from "./line-tables.ts";

/** A point on the bright curve, pixels of the photograph. */
export interface HandMark {
  readonly column: number;
  readonly row: number;
}

/** Where a line of the element stands on the photograph. */
export interface LineMark {
  /** published vacuum wavelength, m */
  readonly wavelength: number;
  readonly column: number;
}

export interface HandReading {
  /** m⁻³; the uncertainty is that of the marks' scatter alone */
  readonly columnGradient: { readonly value: number; readonly standardUncertainty: number };
  /** of the undeflected line, rad, positive when the right end is raised */
  readonly tilt: number;
  /** row of the undeflected line in the middle of the picture */
  readonly level: number;
  /** of each mark's row about the fitted curve, pixels, positive where the mark stands above it */
  readonly residuals: readonly number[];
  /** r.m.s. of the residuals over the marks less the three that the fit takes */
  readonly scatter: number;
  /** distance of the two lines on the setup's own scale, m; null with one */
  readonly lineSeparation: number | null;
  /** fitted row for every column centre; where the curve leaves the picture it is cut at twice its height */
  readonly row: Float64Array;
}

export type HandReader = (marks: readonly HandMark[], lines: readonly LineMark[]) => HandReading;

/** Fewest marks: gradient, level and tilt take three, and a fourth shows what they are worth. */
export const FEWEST_MARKS = 4;

/**
 * Does once what does not change while marks are moved; the reader itself takes well under a millisecond.
 *
 * Row of a mark: level − tan(tilt)·x − F·κ(λ)·G with x from the middle, κ = (n − 1)/N of the element's lines, F pixels per
 * radian; linear least squares for level, tilt and G. λ by the setup's disperser, moved and with two lines stretched onto
 * the line marks. Marks inside a line's dark gap say nothing and do harm. What comes out is the gradient's
 * mean over the beam: 1.2 % below the middle's in the demonstration (hand-marks.test.ts).
 * @throws Refusal with fewer than four marks, without a line mark, or where a line is not one of the element's in view
 */
export function prepareHandMarks(setup: Setup, size: PixelSize): HandReader {
  const map = spectralMap(setup.path);
  const { pixel } = setup.camera;
  const optics = imageScale(setup.path, map);
  const conditions = gasConditions(setup);
  const inView = linesInView(setup, map, size.columns);
  const raw = scaleOfSetup(map, pixel, [map.wavelengthAt(0)], [0]);
  const perRadian = optics.perRadian / pixel;
  const edge = size.columns / 2 + 40;
  const ends = [raw(-edge), raw(edge)].sort((a, b) => a - b);
  const tables: LineTables = lineTables(
    {
      element: metalOf(setup, "a reading").element,
      // The refractivity per atom beside a line does not depend on the density.
      density: 1e20,
      temperature: conditions.temperature,
      gas: { species: setup.vessel.gas, pressure: conditions.pressure },
      structure: metalOf(setup, "a reading").structure,
      overrides: metalOf(setup, "a reading").overrides,
    },
    inView.map(({ id }) => id),
    ends[0] - 1e-9,
    ends[1] + 1e-9,
  );
  const strengths = tables.lines.map(() => 1);

  return (marks, lines) => {
    if (marks.length < FEWEST_MARKS)
      throw new Refusal({
        code: "few-marks",
        field: "marks",
        received: `${marks.length}`,
        expected: `at least ${FEWEST_MARKS} marks on the bright curve`,
      });
    const anchors = [...lines].sort((a, b) => a.wavelength - b.wavelength).slice(0, 2);
    const unknown = anchors.find(
      ({ wavelength }) => !inView.some((line) => Math.abs(line.wavelength - wavelength) < 1e-15),
    );
    if (anchors.length === 0 || unknown !== undefined)
      throw new Refusal({
        code: "no-line-mark",
        field: "line marks",
        received: unknown === undefined ? "none" : `${(unknown.wavelength * 1e9).toFixed(4)} nm`,
        expected: `a line of ${metalOf(setup, "a reading").element} in view: ${inView.map((l) => (l.wavelength * 1e9).toFixed(4)).join(", ")} nm vacuum`,
      });
    const places = anchors.map(({ column }) => column - size.columns / 2);
    const scale = { anchors: anchors.map(({ wavelength }) => wavelength), wavelengthAt: raw };
    /** rows upward for a column gradient of 1e21 m⁻³ */
    const shape = (columns: Float64Array): Float64Array => {
      const wavelengths = columns.map((c) => atomWavelength(scale, places, c - size.columns / 2));
      const kappa = new Float64Array(columns.length);
      const unused = new Float64Array(columns.length);
      evaluateTables(tables, wavelengths, strengths, 0, kappa, unused, new Float64Array(columns.length));
      return kappa.map((value) => value * perRadian * 1e21);
    };
    const x = Float64Array.from(marks, ({ column }) => column - size.columns / 2);
    const bend = shape(Float64Array.from(marks, ({ column }) => column));
    const height = Float64Array.from(marks, ({ row }) => size.rows / 2 - row);
    const ones = new Float64Array(marks.length).fill(1);
    const fit = linearLeastSquares([ones, x, bend], height, ones);
    const [level, slope, gradient] = fit.parameters;
    const residuals = Array.from(height, (h, i) => h - level - slope * x[i] - gradient * bend[i]);
    const scatter = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / (marks.length - 3));
    const centres = Float64Array.from({ length: size.columns }, (_, c) => c + 0.5);
    const all = shape(centres);
    return {
      columnGradient: {
        value: gradient * 1e21,
        standardUncertainty: scatter * Math.sqrt(fit.covariance[8]) * 1e21,
      },
      tilt: Math.atan(slope),
      level: size.rows / 2 - level,
      residuals,
      scatter,
      lineSeparation: places.length === 2 ? Math.abs(raw(places[1]) - raw(places[0])) : null,
      row: centres.map((c, i) => {
        const up = level + slope * (c - size.columns / 2) + gradient * all[i];
        return size.rows / 2 - Math.max(-size.rows, Math.min(size.rows, up));
      }),
    };
  };
}
