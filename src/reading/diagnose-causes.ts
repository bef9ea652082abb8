/** The causes a diagnosis knows: published codes, what each is called, what to do about it, and which of them one picture cannot part. */

export const CAUSE_CODES = [
  "as-predicted",
  "tube-cold",
  "vapour-thin",
  "vapour-dense",
  "upside-down",
  "mirrored",
  "level-slit-tilted",
  "plumb-slit-tilted",
  "camera-rolled",
  "level-slit-wide",
  "plumb-slit-wide",
  "out-of-focus",
  "overexposed",
  "smoke",
  "convection-shimmer",
  "air-plume",
  "window-fogged",
  "line-drifted",
  "gas-pressure-high",
  "gradient-weak",
  "stray-light",
  "wrong-lines",
] as const;

export type CauseCode = (typeof CAUSE_CODES)[number];

/** Causes that the frames at hand cannot part, and the test at the bench that does. */
export interface CauseGroup {
  readonly members: readonly CauseCode[];
  readonly test: string;
}

export interface CauseText {
  readonly title: string;
  readonly remedy: string;
}

/** Members of each group, with the test that parts them; whether it applies depends on the frames at hand. */
export const GROUPS = {
  leaning: {
    members: ["level-slit-tilted", "camera-rolled"],
    test: "Take a lamp frame: its lines lean with a rolled camera and stay upright when only the level slit is tilted.",
  },
  dimmed: {
    members: ["smoke", "window-fogged"],
    test: "Take ten frames a second apart: smoke flickers from frame to frame, a fogged window does not.",
  },
  little: {
    members: ["tube-cold", "vapour-thin"],
    test: "Take another picture ten minutes later: a tube that is still warming shows wider gaps, one that has run short of metal does not.",
  },
  layering: {
    members: ["gas-pressure-high", "gradient-weak"],
    test: "Read the gauge while the tube is hot: where it stands as the setup says, the layering is weaker than foretold, not the lines wider.",
  },
  handed: {
    members: ["upside-down", "mirrored"],
    test: "Push a card up behind the level slit and see which way its shadow moves; then hold writing before the plumb slit.",
  },
  empty: {
    members: ["tube-cold", "wrong-lines"],
    test: "Take a lamp frame: it says whether the element's lines are in view at all.",
  },
} as const satisfies Record<string, CauseGroup>;

export type GroupName = keyof typeof GROUPS;

export const CAUSES: Readonly<Record<CauseCode, CauseText>> = {
  "as-predicted": { title: "As predicted", remedy: "Nothing to mend." },
  "tube-cold": {
    title: "The tube is cold",
    remedy:
      "Wait for the metal to reach its temperature, or check the heater; look for the line in the right part of the spectrum.",
  },
  "vapour-thin": {
    title: "The vapour is too thin",
    remedy: "Raise the bottom temperature a few kelvin at a time; check that metal is left.",
  },
  "vapour-dense": {
    title: "The vapour is too dense",
    remedy: "Lower the bottom temperature a few kelvin; check the thermocouple's contact.",
  },
  "upside-down": {
    title: "Picture or tube upside down",
    remedy: "Set path.inverted, turn the camera, or turn the tube so that the metal lies below.",
  },
  mirrored: {
    title: "The picture is mirrored, left for right",
    remedy:
      "Mirror the file, or leave out or add one folding mirror; read it as it is, the program turns it.",
  },
  "level-slit-tilted": {
    title: "The level slit is not level",
    remedy: "Turn the level slit until the cold line runs along a row.",
  },
  "plumb-slit-tilted": {
    title: "The plumb slit is not plumb",
    remedy: "Turn the plumb slit until lamp lines stand at right angles to the cold line.",
  },
  "camera-rolled": {
    title: "The camera is rolled",
    remedy: "Turn the camera until lamp lines run along columns.",
  },
  "level-slit-wide": {
    title: "The level slit is too wide",
    remedy: "Close the level slit; its image should be a twentieth of the edge deflection.",
  },
  "plumb-slit-wide": {
    title: "The plumb slit is too wide",
    remedy: "Close the plumb slit until lamp lines grow no sharper, then a little less.",
  },
  "out-of-focus": {
    title: "Out of focus",
    remedy: "Focus the lens before the plumb slit on a cold line, then the camera on a lamp line.",
  },
  overexposed: {
    title: "Overexposed",
    remedy: "Shorten the exposure until the cold line stays below three quarters of full scale.",
  },
  smoke: {
    title: "Smoke in the beam",
    remedy: "Warm the top of the tube to within 85–150 K of the metal; move soldering and burners away.",
  },
  "convection-shimmer": {
    title: "The vapour shimmers: convection in the tube",
    remedy:
      "Lower the gas pressure, or the difference between bottom and top; average many frames meanwhile.",
  },
  "air-plume": {
    title: "Warm air crosses the beam outside the tube",
    remedy:
      "Shield the beam between tube and lenses with cardboard pipes; keep heater leads and hands below it.",
  },
  "window-fogged": {
    title: "A window is fogged",
    remedy: "Warm the windows 20–40 K above the wall beside them.",
  },
  "line-drifted": {
    title: "The undeflected line has drifted, or a window is bent",
    remedy:
      "Take a new cold frame after the run; fasten slits, lenses and camera; look for a window bent by heat.",
  },
  "gas-pressure-high": {
    title: "Lines wider than foretold: gas pressure too high",
    remedy: "Measure the gas pressure hot; look for a leak; pump and fill again.",
  },
  "gradient-weak": {
    title: "The gradient is weaker than foretold",
    remedy: "Cool the top, or lower the gas pressure: convection levels the vapour.",
  },
  "stray-light": {
    title: "Stray light",
    remedy: "Shield the path between the plumb slit and the camera; close the room's lamps out.",
  },
  "wrong-lines": {
    title: "Wrong lines in view",
    remedy: "Check element, centre wavelength and disperser against a lamp frame.",
  },
};
