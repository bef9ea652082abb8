/** What `index` says of a medium other than a metal vapour. */
import type { Dye, Medium } from "../medium/index.ts";
import { indexFigure } from "../report/index.ts";
import type { IndexAnswer } from "./index-vapour.ts";
import { type Extra, indexCsv, indexRows, type Shown } from "./index-words.ts";
import { digits } from "./output.ts";

/** @param wavelengths vacuum, m, one for each that is shown */
export function mediumAnswer(medium: Medium | Dye, wavelengths: Float64Array, shown: Shown): IndexAnswer {
  const response = medium.indexAt(wavelengths);
  const { refractivity, absorption, phaseVelocity, groupIndex } = response;
  const dye = "outsideError" in medium ? medium : undefined;
  const outside = dye?.outsideError(wavelengths);
  const extra: readonly Extra[] =
    outside === undefined
      ? []
      : [{ heading: "error from outside the table", column: "outside_error", values: outside }];
  const sentences = [
    `${medium.name}; the front of a signal travels at c whatever the phase velocity`,
    ...(dye === undefined ? [] : [`constant added to n: ${digits(dye.constant)}`]),
    ...medium.remarks.map((remark) => `mind: ${remark}`),
  ];
  return {
    document: {
      name: medium.name,
      medium: shown.countedIn,
      wavelength: shown.wavelengths,
      refractivity,
      absorption,
      phaseVelocity,
      groupIndex,
      remarks: medium.remarks,
      ...(dye === undefined ? {} : { constant: dye.constant, outsideError: outside }),
    },
    words: [indexRows(response, shown, extra), ...sentences].join("\n"),
    csv: indexCsv(response, shown, extra),
    figure: () =>
      indexFigure(response, {
        title: medium.name,
        state: medium.remarks[0] ?? "",
        shown: shown.wavelengths,
        countedIn: shown.countedIn,
      }),
  };
}
