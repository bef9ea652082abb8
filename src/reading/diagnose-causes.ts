/** The causes a diagnosis knows, how each shows in the signs, and what to do about it. */
import type { Signs } from "./diagnose-signs.ts";

export const CAUSE_CODES = [
  "as-predicted",
  "tube-cold",
  "vapour-thin",
  "vapour-dense",
  "upside-down",
  "level-slit-tilted",
  "plumb-slit-tilted",
  "camera-rolled",
  "level-slit-wide",
  "out-of-focus",
  "overexposed",
  "smoke",
  "window-fogged",
  "line-drifted",
  "gas-pressure-high",
  "gradient-weak",
  "stray-light",
  "wrong-lines",
] as const;

export type CauseCode = (typeof CAUSE_CODES)[number];

export interface Evidence {
  readonly cause: CauseCode;
  readonly weight: number;
  readonly evidence: string;
}

export interface CauseText {
  readonly title: string;
  readonly remedy: string;
  readonly group?: { readonly members: readonly CauseCode[]; readonly test: string };
}

const LEANING = {
  members: ["level-slit-tilted", "camera-rolled"] as const,
  test: "Take a lamp frame: its lines lean with a rolled camera and stay upright when only the level slit is tilted.",
};
const DIMMED = {
  members: ["smoke", "window-fogged"] as const,
  test: "Take ten frames: smoke flickers from frame to frame, a fogged window does not.",
};

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
    remedy: "Set path.inverted, or turn the camera.",
    group: {
      members: ["upside-down"],
      test: "Push a card up behind the level slit and see which way its shadow moves on the picture.",
    },
  },
  "level-slit-tilted": {
    title: "The level slit is not level",
    remedy: "Turn the level slit until the cold line runs along a row.",
    group: LEANING,
  },
  "plumb-slit-tilted": {
    title: "The plumb slit is not plumb",
    remedy: "Turn the plumb slit until lamp lines stand at right angles to the cold line.",
  },
  "camera-rolled": {
    title: "The camera is rolled",
    remedy: "Turn the camera until lamp lines run along columns.",
    group: LEANING,
  },
  "level-slit-wide": {
    title: "The level slit is too wide",
    remedy: "Close the level slit; its image should be a twentieth of the edge deflection.",
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
    group: DIMMED,
  },
  "window-fogged": {
    title: "A window is fogged",
    remedy: "Warm the windows 20–40 K above the wall beside them.",
    group: DIMMED,
  },
  "line-drifted": {
    title: "The cold line has drifted",
    remedy:
      "Take a new cold frame after the run; fasten slits, lenses and camera; look for a window bent by heat.",
  },
  "gas-pressure-high": {
    title: "More broadening than foretold",
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

/** How far a sign must stand out before it says anything, standard deviations. */
const QUIET = 3;

interface Candidate {
  readonly cause: CauseCode;
  /** how much stands out and is explained, standard deviations */
  readonly strength: number;
  readonly evidence: string;
}

/** Weights ∝ exp(strength) above the quiet level; "as predicted" holds the field when nothing stands out. */
export function weighCauses(signs: Signs): Evidence[] {
  const candidates = candidatesOf(signs).filter((c) => c.strength > 0);
  // Beyond 12 the order is clear; capping keeps the runner-up visible.
  const raised = candidates.map((c) => ({ ...c, power: Math.exp(Math.min(c.strength, 12)) }));
  const calm: Candidate & { power: number } = {
    cause: "as-predicted",
    strength: QUIET,
    evidence: "nothing stands out beyond an ordinary good day",
    power: Math.exp(QUIET),
  };
  const all = [...raised, calm];
  const total = all.reduce((sum, c) => sum + c.power, 0);
  return all
    .map((c) => ({ cause: c.cause, weight: c.power / total, evidence: c.evidence, strength: c.strength }))
    .sort((a, b) => b.weight - a.weight || b.strength - a.strength)
    .map(({ cause, weight, evidence }) => ({ cause, weight, evidence }));
}

function candidatesOf(s: Signs): Candidate[] {
  const both = Math.min(Math.abs(s.gradient), Math.abs(s.density));
  const sameWay = s.gradient * s.density > 0 ? both : 0;
  const apart = s.density - s.gradient;
  const percent = (z: number): string => `${((Math.exp(z * 0.12) - 1) * 100).toFixed(0)} %`;
  const columns = `gradient ${percent(s.gradient)}, density ${percent(s.density)} against the forecast`;
  const milliradian = (z: number): string => `${(z * 1.2).toFixed(1)} mrad`;
  const leanKnown = s.lean !== 0;
  const slit = s.tilt - s.lean;
  return [
    {
      cause: "upside-down",
      strength: s.inverted ? 11 : 0,
      evidence: "the branches point the other way than foretold",
    },
    { cause: "tube-cold", strength: s.density < -12 && s.gradient < -8 ? 11.5 : 0, evidence: columns },
    { cause: "vapour-thin", strength: s.gradient < 0 ? sameWay : 0, evidence: columns },
    { cause: "vapour-dense", strength: s.gradient > 0 ? sameWay : 0, evidence: columns },
    { cause: "gas-pressure-high", strength: apart > 0 && s.density > 0 ? apart : 0, evidence: columns },
    {
      cause: "gradient-weak",
      strength: apart > 0 && s.gradient < 0 ? Math.min(apart, -s.gradient) : 0,
      evidence: columns,
    },
    {
      cause: "camera-rolled",
      strength:
        leanKnown && Math.abs(slit) < Math.abs(s.tilt) / 2
          ? Math.abs(s.tilt)
          : leanKnown
            ? 0
            : 0.9 * Math.abs(s.tilt),
      evidence: `cold line ${milliradian(s.tilt)} off, lamp lines ${leanKnown ? milliradian(s.lean) : "not seen"}`,
    },
    {
      cause: "level-slit-tilted",
      strength: leanKnown ? (Math.abs(s.lean) < Math.abs(s.tilt) / 2 ? Math.abs(slit) : 0) : Math.abs(s.tilt),
      evidence: `cold line ${milliradian(s.tilt)} off`,
    },
    {
      cause: "plumb-slit-tilted",
      strength: leanKnown && Math.abs(s.tilt) < Math.abs(s.lean) / 2 ? Math.abs(s.lean) : 0,
      evidence: `lamp lines lean by ${milliradian(s.lean)} while the cold line is level`,
    },
    {
      cause: "level-slit-wide",
      strength: Math.max(s.slitHeight, 0),
      evidence: `the cold line is ${((Math.exp(s.slitHeight * 0.08) - 1) * 100).toFixed(0)} % higher than foretold`,
    },
    {
      cause: "out-of-focus",
      strength: Math.max(s.blur, 0),
      evidence: `the cold line's edges are ${((Math.exp(s.blur * 0.12) - 1) * 100).toFixed(0)} % softer than foretold`,
    },
    {
      cause: "overexposed",
      strength: s.saturated,
      evidence: `${(s.saturated * 0.2).toFixed(1)} % of the lit pixels are at full scale`,
    },
    {
      cause: "smoke",
      strength: s.stripes > QUIET ? Math.max(s.loss, s.stripes) : 0,
      evidence: `light lost unevenly, ${(s.stripes * 3).toFixed(0)} % from place to place`,
    },
    {
      cause: "window-fogged",
      strength: s.stripes <= QUIET ? s.loss : 0,
      evidence: `${((1 - Math.exp(-s.loss * 0.03)) * 100).toFixed(0)} % of the light lost at all wavelengths since the cold frame`,
    },
    {
      cause: "line-drifted",
      strength: Math.abs(s.drift),
      evidence: `all wavelengths stand ${(s.drift * 0.6).toFixed(1)} pixels from where cold line and gas put them`,
    },
    {
      cause: "stray-light",
      strength: s.stray,
      evidence: `background ${(s.stray * 0.4).toFixed(1)} % of full scale above the setup's`,
    },
    {
      cause: "wrong-lines",
      strength: Math.abs(s.scale),
      evidence: `strength ratio ${((Math.exp(s.scale * 0.03) - 1) * 100).toFixed(0)} % from the published one`,
    },
  ];
}
