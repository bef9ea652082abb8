/** What can become of light on its way from the lamp to the camera. */

/** What can happen to light, in the order in which it meets its fate. */
export const FATES = [
  "absorbed",
  "fog",
  "wall",
  "lens",
  "jaw",
  "glass",
  "disperser",
  "sensor",
  "recorded",
] as const;
export type Fate = (typeof FATES)[number];

/** What each fate means, for a table or a legend. */
export const FATE_WORDS: Readonly<Record<Fate, string>> = {
  absorbed: "absorbed by the vapour",
  fog: "lost in fog or smoke",
  wall: "cut by the wall of the tube",
  lens: "bent out of the focusing lens",
  jaw: "cut by the end of the plumb slit",
  glass: "lost at lenses, windows and to dust",
  disperser: "lost in the disperser",
  sensor: "beyond the edge of the sensor",
  recorded: "recorded",
};

/** Tints of the fates on a screen, sRGB 0…255: the same in picture, strip and legend. */
export const FATE_TINTS: Readonly<Record<Fate, readonly [number, number, number]>> = {
  absorbed: [70, 70, 90],
  fog: [150, 150, 150],
  wall: [150, 90, 40],
  lens: [200, 140, 40],
  jaw: [190, 60, 60],
  glass: [60, 120, 120],
  disperser: [60, 90, 170],
  sensor: [90, 60, 150],
  recorded: [240, 240, 230],
};
