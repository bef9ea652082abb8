/** How differently the frames of one photograph were exposed, as far as their files say. */
import type { Frame } from "../picture/api.ts";

export interface Exposures {
  /** light of the hot frame over the cold one's by time, sensitivity and aperture; 1 where not both files tell */
  readonly light: number;
  /** amplification of the hot frame over the cold one's; 1 where not both files tell */
  readonly gain: number;
  /** what differs and what was done about it, in sentences */
  readonly notes: readonly string[];
}

/** Times and numbers written a little differently are the same. */
const SAME = 0.01;

/**
 * On a linear sensor light goes as time · ISO / (f-number)², each counted where both files state it. The fit finds the hot picture's brightness all the same; told the ratio,
 * it finds 1, and what a window or smoke took is not mixed up with the shutter. Of a lamp frame and of one with the slit moved only places count: theirs may differ.
 */
export function exposuresOf(hot: Frame, cold: Frame | undefined, dark: Frame | undefined): Exposures {
  const time = ratio(hot.exposure, cold?.exposure);
  const gain = ratio(hot.sensitivity, cold?.sensitivity);
  const stops = ratio(hot.aperture, cold?.aperture);
  const light = (time * gain) / stops ** 2;
  const notes: string[] = [];
  if (cold !== undefined && [time, gain, stops].some(differs))
    notes.push(
      `The cold frame was exposed otherwise than the hot picture (${words(cold, hot)} against ${words(hot, cold)}): its light was multiplied by ${light.toPrecision(3)}.${differs(stops) ? " Another aperture also changes how sharp the lines are: leave it alone between them." : ""}`,
    );
  for (const [name, frame] of [
    ["hot picture", hot],
    ["cold frame", cold],
  ] as const)
    if (
      dark !== undefined &&
      frame !== undefined &&
      [ratio(frame.exposure, dark.exposure), ratio(frame.sensitivity, dark.sensitivity)].some(differs)
    ) {
      notes.push(
        `The dark frame was exposed otherwise than the ${name} (${words(dark, frame)} against ${words(frame, dark)}): what pixels leak grows with time and sensitivity and is not all taken off; take dark frames as the pictures are taken.`,
      );
      break;
    }
  return { light, gain, notes };
}

function ratio(one: number | undefined, other: number | undefined): number {
  return one === undefined || other === undefined ? 1 : one / other;
}

function differs(share: number): boolean {
  return Math.abs(share - 1) > SAME;
}

/** What both files state of an exposure: "1/50 s, ISO 100, f/2.8". */
function words(frame: Frame, other: Frame): string {
  const { exposure, sensitivity, aperture } = frame;
  return [
    ...(exposure === undefined || other.exposure === undefined ? [] : [timeWords(exposure)]),
    ...(sensitivity === undefined || other.sensitivity === undefined ? [] : [`ISO ${sensitivity}`]),
    ...(aperture === undefined || other.aperture === undefined
      ? []
      : [`f/${Number(aperture.toPrecision(3))}`]),
  ].join(", ");
}

function timeWords(seconds: number): string {
  const inverse = 1 / seconds;
  return seconds < 0.5 && Math.abs(inverse - Math.round(inverse)) < 0.05
    ? `1/${Math.round(inverse)} s`
    : `${Number(seconds.toPrecision(3))} s`;
}
