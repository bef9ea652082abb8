/** What the page and the worker that plans say to each other. One worker for one question; it is ended when it has answered. */
import type { Chosen, ChooseWish } from "../../plan/choose.ts";
import type { ElementRow } from "../../plan/elements.ts";
import type { HeatPlan } from "../../plan/heat-plan.ts";
import type { RunSheet } from "../../plan/run-sheet.ts";
import type { ToleranceAnswer } from "../../plan/spread.ts";
import type { Uncertain } from "../../plan/tolerance.ts";
import type { SetupText } from "../state/setup-text.ts";

interface Asked<Task extends string> {
  readonly task: Task;
  readonly setup: SetupText;
}
export interface ChooseAsk extends Asked<"choose"> {
  readonly wish: ChooseWish;
}
export type ElementsAsk = Asked<"elements">;
export interface ToleranceAsk extends Asked<"tolerance"> {
  readonly draws: number;
  readonly seed: number;
}
export type SheetAsk = Asked<"sheet">;
export type HeatAsk = Asked<"heat">;

export type Ask = ChooseAsk | ElementsAsk | ToleranceAsk | SheetAsk | HeatAsk;

export interface Answers {
  readonly choose: Chosen;
  readonly elements: readonly ElementRow[];
  readonly tolerance: { readonly answer: ToleranceAnswer; readonly inputs: readonly Uncertain[] };
  /** the sheet, and the same as one page for a file */
  readonly sheet: { readonly sheet: RunSheet; readonly html: string };
  readonly heat: {
    readonly plan: HeatPlan;
    /** fingerprint of the setup */
    readonly setup: string;
    readonly stopNow: readonly string[];
    /** temperature of the metal from which the heater goes off, K */
    readonly tooHot: number;
  };
}

export interface Progress {
  readonly done: number;
  readonly of: number;
}

export type Told<A extends Ask = Ask> =
  | { readonly progress: Progress }
  | { readonly answer: Answers[A["task"]] }
  /** the setup or the question is at fault, or the program: one sentence each */
  | { readonly sentences: readonly string[] };
