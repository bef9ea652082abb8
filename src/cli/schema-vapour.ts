/** JSON Schema of what `vapour` prints with --json, and of the band of fog. */
import { z } from "zod";
import { number, numbers } from "./schema-index.ts";

const chance = z
  .enum(["none", "possible", "likely"])
  .meta({ description: "whether fog is to be expected at the beam's supersaturation" });

const band = (unit: string, said: string) =>
  z
    .array(z.number())
    .length(2)
    .meta({ description: `[low, high], ${unit}; ${said}` });

/** The band that fog opens in a forecast; null for the picture of the cold tube. */
export const fogOfForecast = z
  .object({
    chance,
    supersaturation: number("1", "at mid-length on the beam, without fog"),
    columnDensity: band("m-2", "at the beam's middle"),
    columnGradient: band("m-3", "at the beam's middle"),
    lines: z.array(
      z.object({
        line: z.string(),
        wavelength: number("m, vacuum", "centre"),
        halfGap: band("m", "of the line's half-gap"),
        edgeDeflection: band("rad", "of the deflection at the gap's edge"),
      }),
    ),
    confidence: z.string(),
  })
  .nullable();

export const vapourDocument = z.object({
  onAxis: z.object({
    density: number("m-3", "at mid-length at the beam's height"),
    gasTemperature: number("K", "there"),
  }),
  columnDensity: number("m-2", "integral of density along the beam"),
  columnGradient: number("m-3", "integral of the upward density gradient; negative when dense below"),
  gasColumnGradient: number("m-3", "the same of the buffer gas"),
  scaleHeight: z.number().nullable().meta({ description: "m: N/|dN/dy|; null where the density is level" }),
  supersaturation: number("1", "largest p/p_sat(T) on the beam"),
  fog: z.object({
    chance,
    columnDensity: band("m-2", "what fog may make of it, the value without fog included"),
    columnGradient: band("m-3", "what fog may make of it, the value without fog included"),
    confidence: z.string(),
  }),
  hotPressure: number("Pa", "total pressure while hot"),
  rayleigh: number("1", "Rayleigh number of the bore"),
  knudsen: number("1", "mean free path over bore"),
  chargeLife: z
    .number()
    .nullable()
    .meta({ description: "s, how long the charge lasts; null without a charge" }),
  metal: z
    .object({
      inFlight: number("kg", "metal in the vapour"),
      evaporation: number("kg/s", "leaves the wall"),
      liquidReturn: number("kg/s", "settles as a liquid and runs back"),
      solidLoss: number("kg/s", "settles as a solid and stays"),
      crustGrowth: number("m/s", "fastest growth of solid metal on the wall"),
      windowTemperature: number("K", "of the windows"),
      windowDewPoint: number("K", "below which metal settles on the windows"),
      windowGrowth: number("m/s", "film on the windows, upper bound"),
    })
    .optional()
    .meta({ description: "not where the vessel's contents are stated" }),
  wetWall: z
    .object({
      strip: number("rad", "full angle around the bottom that is wet with metal"),
      from: number("m", "place from mid-length where the wet part begins"),
      to: number("m", "where it ends"),
      share: number("1", "of the wall's area that is wet"),
      drySupersaturation: number("1", "largest p/p_sat(T) on the dry wall; above 1 it does not stay dry"),
    })
    .optional()
    .meta({ description: "only where the setup states which part of the wall is wet" }),
  prism: z
    .object({
      deviation: number("rad", "by which the solvent turns the light in the middle of the picture, upward"),
      incidence: number("rad", "on the first face"),
      path: number("m", "way in the liquid, middle of the beam"),
      thinnest: number("m", "way in the liquid at the thin side of the beam"),
      outerFaces: number("1", "share of the light that the two outer faces do not reflect"),
      dyeDeflection: number("rad", "by which the dye turns it further, upward"),
    })
    .optional()
    .meta({ description: "only of a prism with dye" }),
  beam: z.object({
    height: numbers("m", "heights above the axis"),
    columnDensity: numbers("m-2", "at each height"),
    columnGradient: numbers("m-3", "at each height"),
    gasColumnGradient: numbers("m-3", "at each height"),
  }),
  shell: z
    .object({
      wall: z.object({
        bottom: number("K", "at mid-length"),
        top: number("K", "at mid-length"),
        ends: number("K", "mean of the outermost slice"),
      }),
      balance: z.object({
        heater: number("W", "into the wall"),
        strip: number("W", "lost by the heated strip"),
        top: number("W", "lost by the rest of the heated length"),
        ends: number("W", "lost beyond the heated length"),
        liquid: number("W", "of these, carried off by liquid"),
        topOutlet: z.number().nullable().meta({ description: "K; null without liquid on the top" }),
        endOutlet: z.number().nullable().meta({ description: "K; null without liquid on the ends" }),
        stored: number("W", "still warming the shell"),
      }),
      readyAfter: z.number().nullable().meta({ description: "s from cold; null where not within the time" }),
      warmUp: z.object({
        time: numbers("s", "since the heater was switched on"),
        bottom: numbers("K", "at each time"),
        top: numbers("K", "at each time"),
        ends: numbers("K", "at each time"),
        outlet: numbers("K", "warmest outlet of a liquid"),
      }),
    })
    .optional()
    .meta({ description: "only where the setup gives a heater" }),
  series: z
    .object({
      time: numbers("s", "since the heater was switched on"),
      bottom: numbers("K", "at each time"),
      top: numbers("K", "at each time"),
      ends: numbers("K", "at each time"),
      outlet: numbers("K", "warmest outlet of a liquid"),
      heater: numbers("W", "into the wall"),
      density: numbers("m-3", "at mid-length at the beam's height"),
      columnDensity: numbers("m-2", "at the beam's height"),
      columnGradient: numbers("m-3", "at the beam's height"),
      gasColumnGradient: numbers("m-3", "at the beam's height"),
      pressure: numbers("Pa", "in the tube"),
    })
    .optional()
    .meta({ description: "with --warm-up, and with --figures of a setup with a heater" }),
  sensitivities: z
    .array(
      z.object({
        lever: z.string(),
        unit: z.string(),
        value: z.number(),
        gradient: z.number(),
        density: z.number(),
        relativeGradient: z.number(),
        curvature: z.number(),
      }),
    )
    .optional()
    .meta({
      description:
        "with --sensitivities: change of column gradient, m-3, and column density, m-2, per unit of each lever",
    }),
  advice: z.looseObject({ airIsEnough: z.boolean() }).optional().meta({ description: "with --advise" }),
  warnings: z.array(z.object({ code: z.string(), sentence: z.string() }).loose()),
});
