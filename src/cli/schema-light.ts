/** JSON Schemas of what is said of the light path: extra parts of a forecast, slits for a wish, prism and bench. */
import { z } from "zod";
import { FATES } from "../picture/index.ts";
import { number, numbers } from "./schema-index.ts";

/** Parts of `forecast` that are there only when asked for; sharpness always, rays in a hot tube. */
export const FORECAST_PARTS = {
  rays: z
    .object({
      worstPixels: number("pixels", "largest difference between traced rays and the small-angle answer"),
      wallHits: z.number().int(),
      traced: z.number().int(),
      findings: z.array(z.string()),
    })
    .optional(),
  sharpness: z.object({
    at: number("m, vacuum", "where it is told"),
    wavelength: number("m", "wavelengths told apart: full width of the blur"),
    resolvingPower: number("1", "wavelength over that"),
    deflection: number("rad", "deflections at the tube told apart"),
  }),
  ledger: z
    .object({
      totals: z
        .record(z.enum(FATES), z.number())
        .meta({ description: "shares of the light over the sensor's width, together 1" }),
      imbalance: number("1", "light not accounted for at the worst wavelength"),
      lamp: z.object({
        diameter: number(
          "m",
          "of the lamp's image on the level slit; null where it has no stated size",
        ).nullable(),
        magnification: number("1", "image over lamp"),
        slitFilled: number("1", "share of the opening's height that the image covers"),
        brightness: number("1", "of the piece of slit looked at, over the spot's brightest"),
        beamFilled: number("1", "share of the beam that the condenser's cone fills"),
      }),
      tints: z.record(z.enum(FATES), z.array(z.number())),
      words: z.record(z.enum(FATES), z.string()),
    })
    .optional(),
  signal: z
    .object({
      electrons: number("1", "in the brightest pixel"),
      noise: number("1", "its standard deviation, electrons"),
      signalToNoise: number("1", "in that pixel"),
    })
    .optional(),
  screen: z
    .object({
      width: number("m", "of the screen"),
      distance: number("m", "of the audience"),
      reflectance: number("1", "of the screen"),
      brightest: z.object({
        wavelength: number("m, vacuum", "brightest place"),
        illuminance: number("lx", "there"),
        luminance: number("cd/m2", "there"),
      }),
      meanIlluminance: number("lx", "mean over the strip that the spectrum lights"),
      lineThickness: number("m", "full width of the line on the screen"),
      lineMinutes: number("arc minutes", "the same for the audience"),
      adaptation: z.enum(["cones", "both", "rods", "nothing"]),
      findings: z.array(z.string()),
    })
    .optional(),
};

export const SLITS = z
  .array(
    z.object({
      wish: z.string(),
      plumbSlit: z.number().optional().meta({ description: "m" }),
      levelSlit: z.number().optional().meta({ description: "m" }),
      brightness: number("1", "light per pixel relative to now"),
      sentence: z.string(),
    }),
  )
  .optional()
  .meta({ description: "only with --wish" });

const perWavelength = z.array(z.number().nullable());
const points = z.array(z.array(z.number()));

export const LIGHT_OUTPUTS = {
  prism: z.object({
    crown: z.string(),
    flint: z.string(),
    wavelength: numbers("m, vacuum", "where the design is told of"),
    designs: z.array(
      z.object({
        elements: z.union([z.literal(3), z.literal(5)]),
        crownApex: number("rad", "outer crowns"),
        flintApex: number("rad", "each flint"),
        middleApex: z.number().nullable().meta({ description: "rad, middle crown; null for three glasses" }),
        deviation: perWavelength.meta({ description: "rad; null where totally reflected" }),
        dispersion: perWavelength.meta({ description: "rad per m of wavelength" }),
        transmission: numbers("1", "share of light that the faces pass"),
        inside: numbers("1", "share left by the absorption inside the glass"),
        kept: numbers("1", "share of the beam that stays inside the blocks"),
        margin: perWavelength.meta({ description: "rad from total reflection at the tightest face" }),
        bow: perWavelength.meta({ description: "m of wavelength at 10 mrad out of the plane" }),
        pieces: z.array(z.object({ glass: z.string(), outline: points, apex: z.number() })),
        rays: z.array(points),
        edges: z.array(points),
        length: number("m", "along the light"),
        height: number("m", "of the blocks"),
      }),
    ),
  }),
  bench: z.object({
    scale: number("1", "n of the scale 1:n"),
    distances: z.array(
      z.object({
        name: z.string(),
        from: number("m", "middle, from the lamp"),
        length: number("m", "along the light"),
        next: z.number().nullable().meta({ description: "m to the middle of the next" }),
        height: number("m", "free height"),
        width: number("m", "free width"),
      }),
    ),
    provenance: z.object({ program: z.string(), setup: z.string(), seed: z.number().int() }),
  }),
};
