/** What the page and the worker that measures say to each other. Frames travel as files: handing one over copies nothing. */
import type { Glance, HandMark, HandMarks, HandReading, LineMark, Measured } from "../../reading/index.ts";
import type { JsonObject } from "../../setup/index.ts";
import type { SetupText } from "../state/setup-text.ts";

/** How a picture that lies on its side is set up. */
export type QuarterTurn = "left" | "right";

/** The frames of one photograph. */
export interface Frames {
  readonly hot: File;
  readonly cold?: File;
  readonly lamp?: File;
  /** light shut off; several are averaged */
  readonly dark: readonly File[];
  /** lamp names and single lines, e.g. "Ar, Ne" or "435.83 nm air" */
  readonly lampLines: string;
}

export interface ReadRequest extends Frames {
  readonly task: "read";
  readonly setup: SetupText;
  /** what was marked by hand, as its file has it */
  readonly marks?: JsonObject;
}

export interface DiagnoseRequest extends Frames {
  readonly task: "diagnose";
  readonly setup: SetupText;
  readonly marks?: JsonObject;
}

/** A file of marks to be looked through. */
export interface OpenMarksRequest {
  readonly task: "open-marks";
  readonly file: File;
}

export interface OpenedMarks {
  readonly marks: HandMarks;
  /** of the two marks of the scale, as they are written in the file */
  readonly wavelengths: readonly string[];
}

/** A photograph to be looked at before it is read. */
export interface ViewRequest {
  readonly task: "view";
  readonly photo: File;
  readonly turn: QuarterTurn | undefined;
}

/** The photograph beside its own forecast. */
export interface CompareRequest {
  readonly task: "compare";
  readonly setup: SetupText;
  readonly hot: File;
}

/** Marks set by hand on a photograph of this size. */
export interface MarksRequest {
  readonly task: "marks";
  readonly setup: SetupText;
  readonly columns: number;
  readonly rows: number;
  readonly marks: readonly HandMark[];
  readonly lines: readonly LineMark[];
}

/** Practice pictures of the open bench: the tube a little hotter or cooler than the setup says. */
export interface PracticeRequest {
  readonly task: "practice";
  readonly setup: SetupText;
  readonly seed: number;
}

/** One live frame. The frame itself is handed over and closed by the worker. */
export interface GlanceRequest {
  readonly task: "glance";
  readonly setup: SetupText;
  readonly frame: VideoFrame | ImageBitmap;
  /** frames averaged, counting this one; 1 for none */
  readonly average: number;
  /** "take" keeps this frame as the cold one, "forget" drops it */
  readonly cold?: "take" | "forget";
  /** true where the averaged frame is wanted as a PNG */
  readonly capture?: boolean;
}

/** How the open bench's tube would warm up. */
export interface WarmUpRequest {
  readonly task: "warm-up";
  readonly setup: SetupText;
}

/** Arrays of one length; empty where the setup does not say how the tube is heated. */
export interface WarmUpAnswer {
  /** s from switching on */
  readonly time: Float64Array;
  readonly columnDensity: Float64Array;
  readonly columnGradient: Float64Array;
}

/** The next few frames of a film; the other frames serve all of it. */
export interface FilmRequest extends Omit<Frames, "hot"> {
  readonly task: "film";
  readonly setup: SetupText;
  readonly film: File;
  /** set by hand on a photograph, for every frame */
  readonly marks?: JsonObject;
  /** the same number while one film goes on; a new one begins anew */
  readonly key: number;
  /** of so many frames one is read, ≥ 1 */
  readonly every: number;
  /** frames to read in this answer */
  readonly count: number;
}

/** Grey to be painted in the colours of the room: one byte a pixel. */
export interface GreyView {
  readonly columns: number;
  readonly rows: number;
  readonly grey: Uint8Array<ArrayBuffer>;
  /** "signed": 128 is nothing, above it plus, below it minus */
  readonly kind: "light" | "signed";
}

export interface ReadNumber {
  readonly label: string;
  readonly value: number;
  /** from noise alone */
  readonly standardUncertainty: number;
  /** with systematic parts */
  readonly combinedUncertainty: number;
  /** SI unit of all three, UCUM code */
  readonly unit: string;
  /** unit it is shown in, where not the SI unit */
  readonly as?: string;
}

export interface LampMark {
  /** pixels from the left edge, middle row */
  readonly column: number;
  /** "763.7208 nm" or more than one; empty where not identified */
  readonly names: readonly string[];
  /** measured minus published, m */
  readonly residual: number;
  /** height above background, share of full scale */
  readonly height: number;
}

/** One cause in the uncertainty of the numbers, as shares of each number's own value. */
export interface BudgetRow {
  readonly cause: string;
  readonly kind: "statistical" | "systematic";
  readonly columnGradient: number;
  readonly columnDensity: number;
}

/** A photograph read: what is drawn over it and what is said about it. */
export interface PhotoReading {
  readonly views: {
    readonly hot: GreyView;
    readonly cold?: GreyView;
    readonly lamp?: GreyView;
    readonly residual: GreyView;
  };
  /** fitted curve in pixels of the photograph from its top left corner, with the share of light left */
  readonly fitted: {
    readonly column: Float64Array;
    readonly row: Float64Array;
    readonly transmission: Float64Array;
  };
  /** where the light itself was found, column by column */
  readonly trace: {
    readonly column: Float64Array;
    readonly row: Float64Array;
    /** standard uncertainty of the row, pixels */
    readonly uncertainty: Float64Array;
    /** share of the light left */
    readonly light: Float64Array;
  };
  /** how the picture was turned; undefined where it stood upright */
  readonly turned: QuarterTurn | undefined;
  /** what the hand had a say in, in words; undefined where nothing was marked */
  readonly marked: string | undefined;
  readonly lines: readonly { readonly label: string; readonly wavelength: number; readonly column: number }[];
  /** zero of n − 1 between the lines; column undefined where it falls outside */
  readonly zero:
    | {
        readonly column: number | undefined;
        readonly measured: number;
        readonly uncertainty: number;
        readonly expected: number;
      }
    | undefined;
  /** columns of round wavelengths, for the scale under the photograph, nm vacuum */
  readonly scale: readonly { readonly at: number; readonly text: string }[];
  readonly lamp: {
    readonly source: "lamp" | "marks" | "vapour-pair" | "setup";
    readonly marks: readonly LampMark[];
    /** r.m.s. of the residuals, m */
    readonly rms: number;
  };
  readonly numbers: readonly ReadNumber[];
  readonly budget: readonly BudgetRow[];
  readonly reducedChiSquare: number;
  readonly verdict: { readonly code: string; readonly text: string };
  readonly warnings: readonly string[];
  readonly assumptions: readonly string[];
  /** what follows from the numbers, a sentence each */
  readonly derived: readonly string[];
}

/** A box on one of the frames, pixels from its upper left corner. */
export interface EvidenceMark {
  readonly frame: "hot" | "cold" | "lamp";
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

export interface SaidCause {
  readonly title: string;
  readonly weight: number;
  readonly evidence: string;
  readonly remedy: string;
  readonly test: string | undefined;
  /** where it shows; undefined where nothing can be pointed at */
  readonly mark: EvidenceMark | undefined;
}

export interface SaidDiagnosis {
  readonly text: string;
  readonly causes: readonly SaidCause[];
}

export interface Comparison {
  readonly forecast: GreyView;
  readonly difference: GreyView;
}

export interface Practice {
  readonly hot: Uint8Array<ArrayBuffer>;
  readonly cold: Uint8Array<ArrayBuffer>;
  readonly dark: Uint8Array<ArrayBuffer>;
  readonly lamp: Uint8Array<ArrayBuffer>;
  readonly lampLines: string;
  /** what the pictures were made with */
  readonly truth: {
    readonly columnGradient: number;
    readonly columnDensity: number;
    readonly bottom: number;
  };
}

/** What one live frame says. */
export interface GlanceAnswer {
  readonly columns: number;
  readonly rows: number;
  /** the averaged frame to look at, undefined where it is shown by the video itself */
  readonly view: GreyView | undefined;
  readonly glance: Glance | undefined;
  /** why there is no reading of this frame */
  readonly refused: string | undefined;
  readonly meter: Meter;
  /** frames in the average */
  readonly averaged: number;
  readonly coldKept: boolean;
  /** 16-bit PNG of the averaged frame */
  readonly png: Uint8Array<ArrayBuffer> | undefined;
}

/** What a person needs while setting the camera up. */
export interface Meter {
  /** counts of 64 equal steps from black to full scale */
  readonly histogram: Uint32Array;
  /** share of pixels at the top and at the bottom of the scale */
  readonly clipped: number;
  readonly black: number;
  /** level of the bright line, share of full scale; undefined without a line */
  readonly bright: number | undefined;
  /** slope of the bright line, rad, positive when the right end is raised; undefined without a line */
  readonly slope: number | undefined;
  /** standard deviation of the line's edge, pixels: the smaller, the better focused; undefined without a line */
  readonly edge: number | undefined;
}

export interface FilmFrame {
  /** s from the film's beginning */
  readonly time: number;
  readonly columnGradient: Measured | null;
  readonly columnDensity: Measured | null;
  readonly tilt: Measured | null;
  readonly verdict: string | undefined;
  /** why the frame could not be read */
  readonly refused: string | undefined;
}

export interface FilmAnswer {
  readonly columns: number;
  readonly rows: number;
  readonly frames: readonly FilmFrame[];
  /** s */
  readonly duration: number;
  readonly ended: boolean;
}

export type MeasureRequest =
  | ReadRequest
  | DiagnoseRequest
  | ViewRequest
  | CompareRequest
  | MarksRequest
  | OpenMarksRequest
  | PracticeRequest
  | GlanceRequest
  | WarmUpRequest
  | FilmRequest;

export interface MeasureAnswers {
  readonly read: PhotoReading;
  readonly diagnose: SaidDiagnosis;
  readonly view: GreyView;
  readonly compare: Comparison;
  readonly marks: HandReading;
  readonly "open-marks": OpenedMarks;
  readonly practice: Practice;
  readonly glance: GlanceAnswer;
  readonly "warm-up": WarmUpAnswer;
  readonly film: FilmAnswer;
}
