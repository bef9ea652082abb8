/** What lenses, windows and disperser leave of the light, part by part and colour by colour. */
import { pow } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import type { LensInput, PathInput } from "./api.ts";
import { disperserLoss, disperserTransmission } from "./disperser-loss.ts";
import { fresnelTransmission } from "./fresnel.ts";
import { glassOf } from "./glass.ts";

/** Share of light that an aluminium mirror throws back: common practice, no source. */
const MIRROR = 0.88;
/** Air–glass faces of lenses and windows, uncoated, and what each leaves (Fresnel at n = 1.52): the figure taken where no glass is asked after. */
const FACES = 10;
const PER_FACE = 0.957;
/** Glass of a lens of which nothing is said. */
const CROWN = "517642";
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
  | "otherLosses"
  | "beamWidth"
  | "secondCollimatorFocalLength"
  | "focalLength"
>;

/**
 * Steps between lamp and sensor at which glass takes light; their product is what all leave.
 *
 * Usual: ten faces of one figure, the disperser's faces or order. With `eachColour`: condenser and lenses by their own glass (light thrown back twice inside a
 * lens is lost: it is out of focus), two windows by theirs with the light thrown to and fro inside a plane plate, (1 − R)/(1 + R) (both faces once where they
 * are wedged), the disperser's faces and the absorption in its glass.
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
  const own = lensFaces(path.lens);
  const crown = plainLens(CROWN);
  const count = 4 - mirror.length;
  const aperture = (path.beamWidth * path.secondCollimatorFocalLength) / path.focalLength;
  const loss = disperserLoss(disperser, aperture, disperserPasses);
  return [
    { name: "condenser", fate: "glass", share: crown },
    { name: "lenses", fate: "glass", share: (w) => pow(own(w), count) },
    ...mirror,
    { name: "windows", fate: "glass", share: windows(path) },
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

/** Share thrown back by one face between air and glass, square on. */
function reflected(index: number): number {
  return 1 - fresnelTransmission(1, index, 0);
}

function plainLens(code: string): (wavelength: number) => number {
  const glass = glassOf(code, "path.lensGlass");
  return (w) => pow(1 - reflected(glass.index(w)), 2);
}

/** Faces of one lens: two of a single glass, three of a cemented pair. */
function lensFaces(lens: LensInput | undefined): (wavelength: number) => number {
  if (lens?.kind === "singlet") return plainLens(lens.glass);
  if (lens?.kind !== "achromat") return plainLens(CROWN);
  const crown = glassOf(lens.crown, "path.lensCrown");
  const flint = glassOf(lens.flint, "path.lensFlint");
  return (w) => {
    const [c, f] = [crown.index(w), flint.index(w)];
    return (1 - reflected(c)) * fresnelTransmission(c, f, 0) * (1 - reflected(f));
  };
}

/** Both windows of the tube. */
function windows({ windowGlass, windowWedge }: LossInput): (wavelength: number) => number {
  const glass = glassOf(windowGlass ?? "fused-silica", "path.windowGlass");
  const wedged = (windowWedge ?? 0) !== 0;
  return (w) => {
    const r = reflected(glass.index(w));
    const one = wedged ? pow(1 - r, 2) : (1 - r) / (1 + r);
    return one * one;
  };
}
