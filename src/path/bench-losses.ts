/** What lenses, windows and disperser leave of the light, part by part and colour by colour. */
import { pow } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import type { PathInput } from "./api.ts";
import { disperserLoss, disperserTransmission } from "./disperser-loss.ts";
import { benchLens, plainLens } from "./lens-glass.ts";
import { vesselShare } from "./vessel-faces.ts";

/** Share of light that an aluminium mirror throws back: common practice, no source. */
const MIRROR = 0.88;
/** Air–glass faces of lenses and windows, uncoated, and what each leaves (Fresnel at n = 1.52): the figure taken where no glass is asked after. */
const FACES = 10;
const PER_FACE = 0.957;
/** Wavelengths at which the losses are worked out for a picture; between them a monotone cubic errs by less than 1e-5. */
const KNOTS = 129;

export interface LossStep {
  readonly name: string;
  /** heading under which a ledger books it */
  readonly fate: "glass" | "disperser";
  /** share left of a vacuum wavelength in m, 1 */
  readonly share: (wavelength: number) => number;
}

/** What the losses follow from. */
export type LossInput = Pick<
  PathInput,
  | "eachColour"
  | "mirrorCollimator"
  | "disperser"
  | "disperserPasses"
  | "lens"
  | "windowGlass"
  | "windowWedge"
  | "windowThickness"
  | "prismWalls"
  | "otherLosses"
  | "beamSize"
  | "beamWidth"
  | "rail"
  | "condenserDiameter"
  | "collimatorFocalLength"
  | "secondCollimatorFocalLength"
  | "focalLength"
  | "cameraFocalLength"
>;

/**
 * Steps between lamp and sensor at which glass takes light; their product is what all leave.
 *
 * Usual: ten faces of one figure, the disperser's faces or order. With `eachColour`: condenser and lenses by the faces and the absorption of their own glass
 * (lens-glass.ts), the vessel's windows or walls by theirs (vessel-faces.ts), the disperser's faces and the absorption in its glass.
 * @throws Refusal for a glass that is not stored
 */
export function lossSteps(path: LossInput): readonly LossStep[] {
  const { disperser, disperserPasses, mirrorCollimator, otherLosses } = path;
  const mirror: LossStep[] =
    mirrorCollimator === true ? [{ name: "mirror", fate: "glass", share: () => MIRROR }] : [];
  const dust: LossStep[] =
    otherLosses === undefined
      ? []
      : [{ name: "dust, coatings, absorption", fate: "glass", share: () => 1 - otherLosses }];
  if (path.eachColour !== true) {
    const faces = pow(PER_FACE, FACES - 2 * mirror.length);
    return [
      { name: "lens and window faces", fate: "glass", share: () => faces },
      ...mirror,
      {
        name: "disperser",
        fate: "disperser",
        share: disperserTransmission(disperser, disperserPasses),
      },
      ...dust,
    ];
  }
  const beam = Math.max(path.beamSize, path.beamWidth);
  const second = (beam * path.secondCollimatorFocalLength) / path.focalLength;
  const lenses = [
    ...(mirrorCollimator === true ? [] : [benchLens(path.lens, path.collimatorFocalLength, beam)]),
    benchLens(path.lens, path.focalLength, beam),
    benchLens(path.lens, path.secondCollimatorFocalLength, second),
    benchLens(path.lens, path.cameraFocalLength, second),
  ];
  const { lampToCondenser: before, condenserToSlit: after } = path.rail;
  const cone = path.condenserDiameter ?? (beam * after) / path.collimatorFocalLength;
  const aperture = (path.beamWidth * path.secondCollimatorFocalLength) / path.focalLength;
  const loss = disperserLoss(disperser, aperture, disperserPasses);
  return [
    { name: "condenser", fate: "glass", share: plainLens((before * after) / (before + after), cone) },
    { name: "lenses", fate: "glass", share: (w) => lenses.reduce((share, lens) => share * lens(w), 1) },
    ...mirror,
    {
      name: path.prismWalls === undefined ? "windows" : "walls of the hollow prism",
      fate: "glass",
      share: vesselShare(path),
    },
    { name: "faces or order of the disperser", fate: "disperser", share: loss.faces },
    { name: "inside the disperser's glass", fate: "disperser", share: loss.glass },
    { name: "disperser as measured", fate: "disperser", share: loss.measured },
    ...dust,
  ];
}

/** Share of every colour that all steps leave, for a bench that counts each colour by itself. */
export function coloursPassed(path: LossInput, wavelengths: Float64Array): Float64Array {
  const steps = lossSteps(path);
  const first = wavelengths[0];
  const step = (wavelengths[wavelengths.length - 1] - first) / (KNOTS - 1);
  const at = Float64Array.from({ length: KNOTS }, (_, k) => first + k * step);
  at[KNOTS - 1] = wavelengths[wavelengths.length - 1];
  const curve = new MonotoneCubic(
    at,
    at.map((w) => steps.reduce((share, each) => share * each.share(w), 1)),
  );
  return wavelengths.map((w) => Math.max(0, curve.value(w)));
}
