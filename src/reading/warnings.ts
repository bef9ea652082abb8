/** What a careful colleague would say beside the numbers. */
import type { Reading } from "./api.ts";
import { type Answers, strengthShare } from "./budget.ts";
import { coarseCounts } from "./fit-faults.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { lampCannotTell } from "./lamp-sides.ts";
import { bendsOtherWay, mirrorBlind } from "./verdict.ts";

/** A Lorentz wing fails beyond 0.1–1 nm (domain notes); from this half-gap on the density is limited by the model. */
const WING_LIMIT = 0.3e-9;

export function warningsOf(
  fitted: FittedPicture,
  answers: Answers,
  zero: Reading["zeroBetweenLines"],
): string[] {
  const { cold, lamp, scale, hot, fit, setting, struckPixels } = fitted;
  const list: string[] = [];
  if (!cold)
    list.push("No cold frame: where zero deflection is comes from the far ends of the hot curve alone.");
  list.push(...fitted.exposures.notes);
  if (!lamp && fitted.marks?.scale === undefined)
    list.push("No lamp frame: the line separation rests on the setup's disperser, to about 2 %.");
  if (scale?.ambiguous)
    list.push("The lamp's lines fit the named ones in more than one way; name fewer or add a second lamp.");
  if (fitted.sides !== null && lampCannotTell(fitted.sides))
    list.push(
      "The lamp's lines fit the picture as stored and its mirror image alike, so that the sign of the gradient is in doubt: name more lamp lines, or check the direction of the colours by hand.",
    );
  if (scale?.features.some((f) => f.wavelengths.length === 0))
    list.push(
      `${scale.features.filter((f) => f.wavelengths.length === 0).length} lamp line(s) are none of the named ones and were not used.`,
    );
  if (scale && scale.features.filter((f) => f.wavelengths.length > 0).length === 2)
    list.push(
      "Only two lamp lines were identified: the bend of the wavelength scale is the setup's, not measured.",
    );
  const { camera, vessel } = fitted.setup;
  if (camera.columns !== hot.columns || camera.rows !== hot.rows)
    list.push(
      `The picture has ${hot.columns} × ${hot.rows} pixels, the setup's camera ${camera.columns} × ${camera.rows}: pixel pitch taken as stated, ${(camera.pixel * 1e6).toPrecision(3)} µm.`,
    );
  if (bendsOtherWay(fitted, answers))
    list.push(
      `The picture bends the other way than the setup expects: upside down, or hot ${vessel.wall.top < vessel.wall.bottom ? "above" : "below"}${mirrorBlind(fitted) ? ", or mirrored (its lines cannot tell)" : ""}.`,
    );
  if (!fitted.gradientSeen)
    list.push(
      "No gradient is seen: the light bends by less than three standard uncertainties, so that only the column density is told, and no index from the heights.",
    );
  if (coarseCounts(fitted))
    list.push(
      "A count of the file is coarser than the noise in the dark: light fainter than half a count is lost, and the column density may be several per cent off; store 16 bits, or raise the gain until the dark flickers by a count.",
    );
  if (hot.saturatedCount > 0) list.push(`${hot.saturatedCount} overexposed pixels were left out.`);
  if (fitted.dimmedColumns > 0)
    list.push(`${fitted.dimmedColumns} columns whose light smoke, dust or a shadow changes were left out.`);
  if (fitted.lossBeside > 0)
    list.push(
      "Smoke or a shadow dims the light beside a line's own gap: the column density cannot be told from it there.",
    );
  if (struckPixels.length > 0) list.push(`${struckPixels.length} wild pixels were struck.`);
  const gaps = fitted.assignment.pairs.map((p) =>
    Math.abs(setting.wavelengthAt(p.gap.along + p.gap.halfWidth) - setting.wavelengthAt(p.gap.along)),
  );
  if (gaps.some((g) => g > WING_LIMIT))
    list.push(
      "A half-gap exceeds 0.3 nm: the Lorentz wing itself becomes doubtful there, and the column density with it.",
    );
  const publishedShare = Math.hypot(...fitted.assignment.pairs.map(({ line }) => strengthShare(line)));
  if (
    answers.fRatio &&
    Math.abs(fit.values["strength ratio"] - 1) >
      Math.max(0.05, 4 * Math.hypot(relative(answers.fRatio), publishedShare))
  )
    list.push(
      "The strength ratio differs from the published one by more than its uncertainty: check line identification and gamma.",
    );
  if (zero && !zero.pass)
    list.push(
      `The zero between the lines stands ${(Math.abs(zero.measured.value - zero.expected) * 1e12).toFixed(0)} pm from its atomic value: the wavelength scale is in doubt.`,
    );
  if (fit.values["gradient change"] !== 0 && Math.abs(fit.values["gradient change"]) > 0.4)
    list.push("The gradient changes by more than 40 % over half the beam: use a lower beam.");
  return list;
}

function relative(m: Reading["tilt"]): number {
  return m.standardUncertainty / Math.abs(m.value);
}
