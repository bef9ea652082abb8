/** The pictures of a series read by one fit. */

import type { Row } from "../plan/index.ts";
import { Refusal } from "../quantity/index.ts";
import { type ReadingInput, readPicture, readShared, type SharedReading } from "../reading/index.ts";
import { meansOfFiles } from "./frame-means.ts";
import { openPhotograph, type PhotographOptions } from "./photograph.ts";
import { valuesOf } from "./readings.ts";

export interface Together extends Pick<SharedReading, "common" | "reducedChiSquare" | "converged"> {
  /** one per picture, in order; a picture that cannot be read takes no part and says why */
  readonly rows: readonly Row[];
}

export async function readTogether(
  pictures: readonly string[],
  options: PhotographOptions,
): Promise<Together> {
  const means = meansOfFiles();
  const rows: Row[] = [];
  const taken: { readonly row: number; readonly input: ReadingInput }[] = [];
  for (const [row, path] of pictures.entries()) {
    try {
      const { input } = await openPhotograph([path], options, "crossed", means);
      // A rough look tells what is no such picture before it can spoil the fit of all.
      readPicture({ ...input, options: { ...input.options, beamHeights: 3, rough: true } });
      taken.push({ row, input });
      rows.push({ values: {} });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      rows.push({ refused: error.message });
    }
  }
  const { readings, common, reducedChiSquare, converged } = readShared(taken.map(({ input }) => input));
  readings.forEach((reading, k) => {
    rows[taken[k].row] = { values: valuesOf(reading) };
  });
  return { rows, common, reducedChiSquare, converged };
}
