/** What may be wished for, in the trade's words. */
import type { OutcomeName } from "./outcomes.ts";

export interface Wish {
  readonly name: string;
  readonly outcome: OutcomeName;
  readonly sense: "most" | "least";
  readonly sentence: string;
}

/** What may be wished for. */
export const WISHES: readonly Wish[] = [
  { name: "tallest", outcome: "height", sense: "most", sentence: "The tallest curve on the sensor." },
  { name: "narrowest", outcome: "halfGap", sense: "least", sentence: "The narrowest gap." },
  { name: "clearest", outcome: "pairTimes", sense: "most", sentence: "The pair furthest apart in blurs." },
  { name: "gentlest", outcome: "bottom", sense: "least", sentence: "The coolest metal." },
  { name: "quickest", outcome: "warmUp", sense: "least", sentence: "The shortest warm-up." },
  { name: "cheapest", outcome: "metalLoss", sense: "least", sentence: "The least metal lost." },
  {
    name: "clearest-air",
    outcome: "supersaturation",
    sense: "least",
    sentence: "The least tendency to smoke.",
  },
];
