import { expect, it } from "vitest";
import { asTheEyeSees } from "./eye-sees.ts";

const ORANGE = [240, 120, 20, 255];
const DIM = [60, 30, 5, 255];
const seenAt = (luminance: number): number[] => {
  const rgba = Uint8ClampedArray.from([...ORANGE, ...DIM, 0, 0, 0, 255]);
  asTheEyeSees(rgba, luminance);
  return [...rgba];
};
const spread = ([red, , blue]: number[]): number => red - blue;

it("leaves bright colours, pales what is dim, greys what only rods see, and blacks out the rest", () => {
  expect(seenAt(1000)).toEqual([...ORANGE, ...DIM, 0, 0, 0, 255]);
  const mesopic = seenAt(0.1);
  expect(spread(mesopic)).toBeGreaterThan(0);
  expect(spread(mesopic)).toBeLessThan(spread(ORANGE));
  expect(spread(mesopic.slice(4)) / spread(DIM)).toBeLessThan(spread(mesopic) / spread(ORANGE));
  expect(seenAt(1e-4)).toEqual([240, 240, 240, 255, 60, 60, 60, 255, 0, 0, 0, 255]);
  // The brighter stays above the least light that an eye notices, the dimmer one, some twenty times fainter, does not.
  expect(seenAt(5e-6)).toEqual([240, 240, 240, 255, 0, 0, 0, 255, 0, 0, 0, 255]);
  expect(seenAt(1e-7).filter((value) => value !== 255)).toEqual(new Array(9).fill(0));
});
