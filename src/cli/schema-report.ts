/** JSON Schemas of what `report` prints with --json. */

import { z } from "zod";

const mm = z.number().meta({ description: "mm on paper" });
const place = z.object({
  name: z.string(),
  wavelength: z.number().meta({ description: "m, vacuum" }),
  x: z.number().meta({ description: "mm on paper from the picture's left edge" }),
});
const written = {
  folder: z.string(),
  files: z.array(z.string()).meta({ description: "names within the folder" }),
};

export const REPORT_OUTPUTS = {
  "report-run": z.object({ ...written, run: z.string(), readings: z.array(z.string()) }),
  "report-handout": z.object({
    ...written,
    numbers: z.object({
      pixelsPerMm: z.number(),
      width: mm,
      height: mm,
      enlargement: z.number(),
      perRadian: z.number().meta({ description: "m on the sensor for each rad" }),
      marks: z.array(place),
      nmPerMm: z.number(),
      gaps: z.array(
        place.extend({
          line: z.string(),
          strength: z.number(),
          width: mm,
          span: z.number().meta({ description: "m of wavelength, from half light to half light" }),
        }),
      ),
      bends: z.array(
        place.extend({
          height: mm,
          angle: z.number().meta({ description: "rad at the tube, positive up" }),
          gradient: z.number().meta({ description: "m⁻³" }),
        }),
      ),
      zero: place.extend({ ratio: z.number() }).nullable(),
      columnGradient: z.number().meta({ description: "m⁻³" }),
      cold: z.array(mm),
    }),
    provenance: z.object({ program: z.string(), setup: z.string(), seed: z.number().int() }),
  }),
} as const;
