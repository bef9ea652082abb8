/** From signs to causes: how much of what stands out each cause explains. */
import type { CauseCode, GroupName } from "./diagnose-causes.ts";
import { GOOD_DAY, type Signs } from "./diagnose-good-day.ts";

export interface Evidence {
  readonly cause: CauseCode;
  readonly weight: number;
  readonly evidence: string;
  readonly group?: GroupName;
}

interface Candidate {
  readonly cause: CauseCode;
  /** how much stands out and is explained, standard deviations of a good day */
  readonly strength: number;
  readonly evidence: string;
  readonly group?: GroupName;
}

/** How far a sign must stand out before it says anything. */
const QUIET = 3;
/** What is seen or not, without a scale. */
const CERTAIN = 40;
/** ln of density below which there is as good as no vapour. */
const NO_VAPOUR = Math.log(0.25);

/** Weights ∝ exp(strength), strengths above 9 drawn together; "as predicted" holds the field when nothing stands out. */
export function weighCauses(signs: Signs): Evidence[] {
  const calm: Candidate = {
    cause: "as-predicted",
    strength: QUIET,
    evidence: "nothing stands out beyond an ordinary good day",
  };
  const all = [...candidatesOf(signs).filter((c) => c.strength > 0), calm].sort(
    (a, b) => b.strength - a.strength,
  );
  const powers = all.map((c) => Math.exp(c.strength < 9 ? c.strength : 9 + 3 * Math.log(c.strength / 9)));
  const total = powers.reduce((sum, p) => sum + p, 0);
  return all.map(({ strength: _strength, ...c }, i) => ({ ...c, weight: powers[i] / total }));
}

/** Length of a pair of signs along a direction; nothing where they point the other way. */
function along(a: number, b: number, direction: readonly [number, number]): number {
  return Math.max(0, (a * direction[0] + b * direction[1]) / Math.hypot(...direction));
}

function candidatesOf(s: Signs): Candidate[] {
  return [...vapourCandidates(s), ...angleCandidates(s), ...lightCandidates(s), ...lineCandidates(s)];
}

function vapourCandidates(s: Signs): Candidate[] {
  const percent = (ln: number): string => `${signed((Math.exp(ln) - 1) * 100, 0)} %`;
  const mean = s.columns * GOOD_DAY.columns;
  const half = (s.apart * GOOD_DAY.apart) / 2;
  const evidence = `gradient ${percent(mean - half)}, density ${percent(mean + half)} against the forecast`;
  const none = mean < NO_VAPOUR;
  const thin = along(s.columns, s.apart, [-1, 0]);
  // ln density +a, gradient as foretold: (a/2)/0.12 and a/0.06. Likewise with the gradient down and density a little up.
  const wide: readonly [number, number] = [0.5 / GOOD_DAY.columns, 1 / GOOD_DAY.apart];
  const weak: readonly [number, number] = [-0.3 / GOOD_DAY.columns, 1.2 / GOOD_DAY.apart];
  return [
    {
      cause: "tube-cold",
      strength: s.noGap ? CERTAIN : none ? thin : 0,
      evidence: s.noGap ? "a bright level line without any dark gap" : evidence,
      ...(s.noGap ? (s.linesSure ? {} : { group: "empty" as const }) : { group: "little" as const }),
    },
    { cause: "vapour-thin", strength: none ? 0.97 * thin : thin, evidence, group: "little" },
    { cause: "vapour-dense", strength: along(s.columns, s.apart, [1, 0]), evidence },
    { cause: "gas-pressure-high", strength: along(s.columns, s.apart, wide), evidence, group: "layering" },
    { cause: "gradient-weak", strength: along(s.columns, s.apart, weak), evidence, group: "layering" },
  ];
}

function angleCandidates(s: Signs): Candidate[] {
  const milliradian = (z: number): string => `${signed(z * GOOD_DAY.angle * 1e3, 1)} mrad`;
  const tilt = `the undeflected line leans by ${milliradian(s.tilt)} against the setup`;
  if (s.lean === null)
    return [
      { cause: "level-slit-tilted", strength: Math.abs(s.tilt), evidence: tilt, group: "leaning" },
      { cause: "camera-rolled", strength: 0.97 * Math.abs(s.tilt), evidence: tilt, group: "leaning" },
    ];
  const both = `${tilt}, lamp lines by ${milliradian(s.lean)}`;
  const rolled = Math.abs(s.tilt + s.lean) / Math.SQRT2;
  return [
    { cause: "camera-rolled", strength: rolled, evidence: both },
    { cause: "level-slit-tilted", strength: Math.abs(s.tilt), evidence: both },
    { cause: "plumb-slit-tilted", strength: Math.abs(s.lean), evidence: both },
  ];
}

function lightCandidates(s: Signs): Candidate[] {
  const times = (z: number, unit: number): string => `${signed((Math.exp(z * unit) - 1) * 100, 0)} %`;
  const width = s.slitWidth ?? 0;
  const burnt = s.saturated > QUIET;
  const { flicker, sway, shimmer } = s.frames ?? { flicker: 0, sway: 0, shimmer: 0 };
  const uneven = Math.max(s.stripes, flicker);
  const loss = Math.max(s.loss, 0);
  const lossWords = `${((1 - Math.exp(-s.loss * GOOD_DAY.loss)) * 100).toFixed(0)} % of the light lost at all wavelengths since the cold frame, if both were exposed alike`;
  const smoky = uneven > QUIET;
  return [
    {
      cause: "overexposed",
      strength: s.saturated,
      evidence: `${(s.saturated * GOOD_DAY.saturated * 100).toFixed(1)} % of the lit pixels are at full scale`,
    },
    {
      cause: "level-slit-wide",
      strength: burnt ? 0 : Math.max(s.slitHeight, 0),
      evidence: `the cold line's height is ${times(s.slitHeight, GOOD_DAY.slit)} against the forecast`,
    },
    {
      cause: "plumb-slit-wide",
      strength: burnt ? 0 : along(s.blur, width, [0, 1]),
      evidence: `lamp lines' width is ${times(width, GOOD_DAY.plumbSlit)} against the forecast, the cold line's edges ${times(s.blur, GOOD_DAY.blur)}`,
    },
    {
      cause: "out-of-focus",
      strength: burnt ? 0 : along(s.blur, width, [1, s.slitWidth === null ? 0 : 0.3]),
      evidence: `the softness of the cold line's edges is ${times(s.blur, GOOD_DAY.blur)} against the forecast`,
    },
    {
      cause: "smoke",
      strength: smoky ? Math.hypot(uneven, loss) : 0.97 * loss,
      evidence:
        flicker > s.stripes
          ? `light flickers by ${(flicker * GOOD_DAY.flicker * 100).toFixed(0)} % from frame to frame`
          : smoky
            ? `light lost unevenly, by ${(s.stripes * GOOD_DAY.stripes * 100).toFixed(1)} % from place to place`
            : lossWords,
      ...(smoky || s.frames !== null ? {} : { group: "dimmed" as const }),
    },
    {
      cause: "window-fogged",
      strength: burnt ? 0 : loss,
      evidence: lossWords,
      ...(s.frames === null ? { group: "dimmed" as const } : {}),
    },
    {
      cause: "convection-shimmer",
      strength: shimmer,
      evidence: `the branches grow and shrink by ${(shimmer * GOOD_DAY.shimmer * 100).toFixed(0)} % from frame to frame`,
    },
    {
      cause: "air-plume",
      strength: sway,
      evidence: `all wavelengths sway together by ${(sway * GOOD_DAY.sway).toFixed(1)} pixels from frame to frame`,
    },
    {
      cause: "stray-light",
      strength: s.stray,
      evidence: `background ${signed(s.stray * GOOD_DAY.stray * 100, 1)} % of full scale against the setup's`,
    },
    {
      cause: "line-drifted",
      strength: Math.abs(s.drift),
      evidence: `all wavelengths stand ${signed(s.drift * GOOD_DAY.drift, 1)} pixels from where cold line and gas put them`,
    },
  ];
}

function lineCandidates(s: Signs): Candidate[] {
  const wrong = (strength: number, evidence: string): Candidate => ({
    cause: "wrong-lines",
    strength,
    evidence,
    ...(s.noGap && !s.linesSure ? { group: "empty" as const } : {}),
  });
  const options = [
    wrong(
      Math.abs(s.place),
      `lines stand ${signed(s.place * GOOD_DAY.place * 100, 1)} % of the picture's width from where the setup has them`,
    ),
    wrong(
      Math.abs(s.separation),
      `the distance of the pair is ${signed(s.separation * GOOD_DAY.separation * 100, 1)} % against the setup's disperser`,
    ),
    wrong(
      Math.abs(s.ratio),
      `strength ratio ${signed((Math.exp(s.ratio * GOOD_DAY.ratio) - 1) * 100, 0)} % from the published one`,
    ),
    wrong(
      s.lampPlace,
      `lines stand up to ${(s.lampPlace * GOOD_DAY.lampPlace * 1e12).toFixed(0)} pm from their place on the lamp's scale`,
    ),
    wrong(
      s.foreign === null ? 0 : CERTAIN,
      `a dark gap at ${((s.foreign ?? 0) * 100).toFixed(0)} % of the picture's width bends the light and is none of the setup's lines`,
    ),
    wrong(s.lampUnknown ? CERTAIN : 0, "the lamp frame shows none of the named lines"),
    wrong(
      s.noGap && !s.linesSure ? 0.97 * CERTAIN : 0,
      "no dark gap at all: other wavelengths may be in view",
    ),
  ];
  const wrongLines = options.reduce((best, c) => (c.strength > best.strength ? c : best));
  const turned = "the branches point the other way than foretold";
  return [
    wrongLines,
    {
      cause: "upside-down",
      strength: s.inverted ? CERTAIN : 0,
      evidence: turned,
      ...(s.handsAlike ? { group: "handed" as const } : {}),
    },
    {
      cause: "mirrored",
      strength: s.mirrored ? CERTAIN : s.inverted && s.handsAlike ? 0.97 * CERTAIN : 0,
      evidence: s.mirrored ? "strengths or lamp lines stand the wrong way round" : turned,
      ...(s.handsAlike ? { group: "handed" as const } : {}),
    },
  ];
}

function signed(value: number, places: number): string {
  const text = Math.abs(value).toFixed(places);
  return Number(text) === 0 ? text : `${value < 0 ? "−" : "+"}${text}`;
}
