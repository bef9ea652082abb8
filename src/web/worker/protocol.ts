/**
 * What the page and its workers say to each other: one signature, imported by both sides. A request carries a number;
 * the answer repeats it. Arrays travel by transfer, never by copy.
 */
import type { Finding } from "../../plan/finding.ts";
import type { MeasureAnswers, MeasureRequest } from "../measure/protocol.ts";
import type { RefusalRecord } from "../../quantity/refusal.ts";
import type { Setup } from "../../setup/api.ts";
import type { Fate } from "../../picture/index.ts";
import type { Colours, Show } from "../state/bench.ts";
import type { SetupText } from "../state/setup-text.ts";

export interface ForeseeRequest {
  readonly task: "foresee";
  readonly setup: SetupText;
  readonly show: Show;
  /** coarse answers come while a control is dragged, exact ones when it rests */
  readonly precision: "coarse" | "exact";
  /** true in the red theme: the picture's light is drawn in red alone */
  readonly red: boolean;
  /** "picture" leaves out everything beside it: numbers and curves are read a few times a second, the picture follows the hand */
  readonly wanted: "all" | "picture";
  /** every wavelength at the camera's brightness, or as bright as the eye finds it */
  readonly colours: Colours;
  /** with everything beside the picture, the ledger of the dark */
  readonly tints: boolean;
  /** minutes after the heater is switched on; null for the steady state, the only one without a heater */
  readonly minute: number | null;
}

/** A canvas of the page, handed over for good: the worker draws its coarse pictures on it. */
export interface CanvasToWorker {
  readonly canvas: OffscreenCanvas;
}

/** The predicted picture. */
export interface SightPicture {
  readonly columns: number;
  readonly rows: number;
  /** undefined where it has been drawn on the canvas that was handed over */
  readonly rgba: Uint8ClampedArray<ArrayBuffer> | undefined;
}

/** Answer to a ForeseeRequest. */
export interface Foreseen {
  readonly picture: SightPicture;
  /** undefined where only the picture was wanted */
  readonly sight: Sight | undefined;
}

/** One small table of numbers over a rectangle, row-major, rows from the top. */
export interface Field2D {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
  /** width and height of the rectangle, m */
  readonly width: number;
  readonly height: number;
}

/** One curve over the wavelengths of the picture, at the middle of the beam; arrays of one length. */
export interface SightCurve {
  /** vacuum wavelength, m, ascending */
  readonly wavelength: Float64Array;
  /** the same wavelengths in standard air, m */
  readonly wavelengthAir: Float64Array;
  /** deflection at the tube, rad, positive upward */
  readonly deflection: Float64Array;
  /** share of the light that is left, 0…1 */
  readonly transmission: Float64Array;
  /** n − 1 of vapour and gas */
  readonly refractivity: Float64Array;
  /** absorption coefficient, 1/m */
  readonly absorption: Float64Array;
  /** phase velocity in c */
  readonly phaseVelocity: Float64Array;
  readonly groupIndex: Float64Array;
  /** where its wavelength stands at half height, pixels from the left edge, ascending; and the height at which it falls, from the top edge */
  readonly column: Float64Array;
  readonly row: Float64Array;
}

/** One colour of the light in the bench drawing. */
export interface SightRay {
  /** CSS colour */
  readonly fill: string;
  /** deflection at the tube, rad */
  readonly bend: number;
  /** where it falls on the sensor, m from its middle, positive right */
  readonly position: number;
  /** opacity: share of light left, never quite nothing */
  readonly light: number;
}

export interface SightLine {
  readonly label: string;
  /** vacuum wavelength, m */
  readonly wavelength: number;
  /** distance from the line's centre at which half the light is left, m; null where it is nowhere so */
  readonly halfGap: number | null;
  /** deflection at the half-gap, rad, the larger of both sides */
  readonly edgeDeflection: number | null;
}

/** Where the light went, over the whole width of the picture: shares, together 1, in the order in which light meets its fate. */
export type Dark = readonly { readonly fate: Fate; readonly share: number }[];

/** Everything the page shows of one setup, beside the picture. */
export interface Sight {
  readonly setup: Setup;
  readonly precision: "coarse" | "exact";
  readonly curve: SightCurve;
  readonly rays: readonly SightRay[];
  readonly lines: readonly SightLine[];
  /** vacuum wavelength, m */
  readonly zeroBetweenLines: number | null;
  /** rad on the tube per pixel row, positive: up in the picture is up at the tube unless inverted */
  readonly radPerRow: number;
  readonly imageInverted: boolean;
  readonly onAxis: { readonly density: number; readonly temperature: number; readonly scaleHeight: number };
  readonly columnDensity: number;
  readonly columnGradient: number;
  readonly supersaturation: number;
  readonly rayleigh: number;
  readonly knudsen: number;
  /** how long the charge lasts, s; null where nothing is lost or no charge is given */
  readonly chargeLife: number | null;
  /** density over the cross-section at mid-length and over the plumb long-section, m⁻³ */
  readonly cross: Field2D;
  readonly long: Field2D;
  /** undefined where it was not asked for */
  readonly dark: Dark | undefined;
  /** last minute of the warm-up that can be shown; undefined without a heater */
  readonly lastMinute: number | undefined;
  /** what is to be said about the setup; undefined in a coarse answer, for which the last words still stand */
  readonly said: { readonly findings: readonly Finding[]; readonly cautions: readonly Finding[] } | undefined;
}

/** What each task's worker answers. */
interface Answers extends MeasureAnswers {
  readonly foresee: Foreseen;
}

export type Request = ForeseeRequest | MeasureRequest;
export type AnswerTo<R extends Request> = Answers[R["task"]];

/** The input was at fault: one record per fault. */
export interface Refused {
  readonly outcome: "refused";
  readonly faults: readonly RefusalRecord[];
  /** the same as sentences */
  readonly sentences: readonly string[];
}

/** The program was at fault. */
export interface Failed {
  readonly outcome: "failed";
  readonly sentence: string;
}

export interface Done<A> {
  readonly outcome: "done";
  readonly answer: A;
  /** time the worker spent on it, ms */
  readonly took: number;
}

export type Outcome<A> = Done<A> | Refused | Failed;

export interface ToWorker {
  readonly id: number;
  readonly request: Request;
}

export type FromWorker =
  | { readonly ready: true }
  | { readonly ready?: never; readonly id: number; readonly outcome: Outcome<Answers[keyof Answers]> };
