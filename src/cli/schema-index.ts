/** JSON Schemas of what `index` prints. */

import { z } from "zod";

export const number = (unit: string, said: string) => z.number().meta({ description: `${said}, ${unit}` });
export const numbers = (unit: string, said: string) =>
  z.array(z.number()).meta({ description: `${said}, ${unit}` });

const component = z.object({
  line: z.string().meta({ description: "id of the line in the published table" }),
  wavelength: number("m, vacuum", "centre, unshifted"),
  oscillatorStrength: number("1", "absorption strength of the whole line"),
  weight: number("1", "share of the line"),
  population: number("1", "share of the atoms in the line's lower level"),
  isotope: z.string().meta({ description: "such as 39K; the element's symbol where isotopes are merged" }),
  dopplerWidth: number("rad/s", "Doppler 1/e half width"),
  lorentzWidth: number("rad/s", "Lorentz full width at half maximum"),
  shift: number("rad/s", "collisional shift of the centre"),
});

/** A metal vapour. */
export const indexOfVapour = z
  .object({
    element: z.string(),
    temperature: number("K", "gas temperature"),
    density: number("m-3", "number density"),
    wavelength: numbers("m, vacuum unless --air", "wavelengths"),
    refractivity: numbers("1", "n - 1"),
    absorption: numbers("1/m", "absorption coefficient"),
    phaseVelocity: numbers("c", "phase velocity"),
    groupIndex: numbers("1", "group index"),
    components: z.array(component),
    warnings: z.array(z.object({ code: z.string(), sentence: z.string() }).loose()),
    medium: z.enum(["air", "vacuum"]).meta({ description: "in which wavelengths are counted" }),
    zeros: z.array(
      z.object({
        wavelength: number("m, vacuum unless --air", "n = 1 between two lines"),
        standardUncertainty: number("m", "from the published strengths, one standard deviation"),
        between: z.array(z.string()).meta({ description: "ids of the two lines" }),
        unknownStrengths: z
          .array(z.string())
          .meta({ description: "ids of lines without published uncertainty, left out of it" }),
      }),
    ),
    spectroscope: z
      .object({
        light: numbers("1", "light at the slit, relative to the lamp, or without one to a black body"),
        seen: numbers("1", "the same at the instrument's resolution"),
        contrast: number("1", "negative: a dark line, positive: a bright one"),
        reversal: number("1", "dip in the middle of a bright line"),
      })
      .optional()
      .meta({ description: "only with --layer" }),
    classical: z
      .object({
        wavelength: number("m, vacuum unless --air", "where compared, farthest from every line"),
        published: number("1", "n - 1 by the published strengths"),
        classical: number("1", "n - 1 by one electron with f = 1"),
        classicalWavelength: number("m, vacuum", "where that electron is bound"),
        strengthSum: number("1", "sum of the listed strengths from the ground level"),
      })
      .nullable()
      .meta({ description: "null where every wavelength lies on a line" }),
    twoOscillators: z
      .object({
        refractivity: numbers("1", "n - 1 of the two strongest lines as plain oscillators"),
        absorption: numbers("1/m", "their absorption coefficient"),
        largest: number("1", "largest difference of n - 1 from the full model"),
        largestAt: number("m, vacuum unless --air", "where"),
        relative: number("1", "largest relative difference"),
        relativeAt: number("m, vacuum unless --air", "where"),
      })
      .optional()
      .meta({ description: "with --two-oscillators" }),
  })
  .loose();

/** Any other medium. */
export const indexOfMedium = z
  .object({
    name: z.string(),
    medium: z.enum(["air", "vacuum"]).meta({ description: "in which wavelengths are counted" }),
    wavelength: numbers("m, vacuum unless --air", "wavelengths"),
    refractivity: numbers("1", "n - 1"),
    absorption: numbers("1/m", "absorption coefficient"),
    phaseVelocity: numbers("c", "phase velocity"),
    groupIndex: numbers("1", "group index"),
    remarks: z.array(z.string()),
    constant: number("1", "of a dye: added to n to meet the measured index").optional(),
    outsideError: numbers(
      "1",
      "of a dye: bound of the error of n from absorption outside the table",
    ).optional(),
  })
  .meta({ description: "what index --medium prints" });
