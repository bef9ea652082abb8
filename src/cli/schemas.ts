/**
 * JSON Schemas of what the commands print with --json. The same descriptions check the program's own output in its
 * tests. SI numbers throughout; wavelengths are vacuum wavelengths in metres unless said otherwise.
 */

import { z } from "zod";
import { NOTEBOOK_OUTPUTS } from "./schema-notebook.ts";
import { REPORT_OUTPUTS } from "./schema-report.ts";
import { indexOfMedium, indexOfVapour, number, numbers } from "./schema-index.ts";
import { fogOfForecast, vapourDocument } from "./schema-vapour.ts";
import { CAUSE_CODES } from "../reading/index.ts";
import { FORECAST_PARTS, LIGHT_OUTPUTS, SLITS } from "./schema-light.ts";
import { type JsonObject, setupSchema } from "../setup/index.ts";

const spreadOf = z.number().nonnegative();
const uncertain = (unit: string, said: string) =>
  z
    .object({ value: z.number(), standardUncertainty: spreadOf, combinedUncertainty: spreadOf })
    .meta({ description: `${said}, ${unit}; standard deviations: noise alone, then with systematic parts` });

const provenance = z.object({
  program: z.string().meta({ description: "version of the program" }),
  setup: z.string().meta({ description: "fingerprint of the setup, 16 hex digits" }),
  seed: z.number().int(),
});

const finding = z.object({
  code: z.string(),
  level: z.enum(["fine", "mind", "stop"]),
  sentence: z.string(),
  value: z.number().optional(),
  threshold: z.number().optional(),
  unit: z.string().optional(),
  source: z.string(),
  remedy: z.object({ text: z.string(), set: z.record(z.string(), z.string()).optional() }).optional(),
});

const verdict = z.object({
  level: z.enum(["fine", "mind", "stop"]),
  code: z.string().meta({ description: "code of the finding that decides" }),
  text: z.string().meta({ description: "the forecast in one sentence; it never calls a setup safe" }),
});

const outcome = z
  .record(z.string(), z.union([z.number(), z.string(), z.null()]))
  .meta({ description: "outcomes by name, SI units as given by sweep; null where there is none" });

const choice = z.object({
  set: z.record(z.string(), z.string()).meta({ description: "text of each free field" }),
  outcome,
  limitedBy: z.array(z.string()),
});

const spread = z.object({
  nominal: z.number(),
  firstOrder: z.object({
    standardUncertainty: z.number().nonnegative(),
    shares: z.array(
      z.object({
        input: z.string(),
        sensitivity: z.number(),
        contribution: z.number(),
        share: z.number(),
        gain: z.number(),
      }),
    ),
  }),
  draws: z
    .object({
      mean: z.number(),
      standardDeviation: z.number(),
      quantiles: z.array(z.number()),
      standardError: z.number(),
    })
    .nullable()
    .meta({ description: "quantiles at 2.5, 16, 50, 84 and 97.5 %" }),
  nonlinear: z.boolean(),
  improveFirst: z.string().nullable(),
});

const heatCurve = z
  .object({
    time: z.array(z.number()),
    bottom: z.array(z.number()),
    top: z.array(z.number()),
    ends: z.array(z.number()),
    power: z.array(z.number()),
  })
  .meta({ description: "s, K and W: one entry for each time" });

const derivedOfReading = z
  .object({
    density: uncertain("m-3", "mean over the vapour's length"),
    effectiveTemperature: uncertain("K", "at which saturated vapour would be so dense").nullable(),
    prismAngle: uncertain("rad", "apex of an even wedge of that density that bends as much"),
    publishedRatio: z
      .object({ published: z.number(), standardUncertainty: z.number(), deviation: z.number() })
      .nullable()
      .meta({
        description:
          "1: published strength ratio with its uncertainty, and how many standard uncertainties of the difference the read one is off",
      }),
    oscillatorCurve: z
      .object({ chiSquare: z.number(), degreesOfFreedom: z.number(), pValue: z.number() })
      .meta({ description: "1: how often a right curve would look at least as wrong" }),
    columnsAboveLight: z.number(),
    phase: z
      .object({
        column: numbers("pixels", "traced points"),
        wavelength: numbers("m, vacuum", "there"),
        refractivity: numbers("1", "n - 1 where the vapour is as dense as in the middle of the beam"),
        standardUncertainty: numbers("1", "of refractivity and velocity, from the point's own height"),
        combinedUncertainty: numbers("1", "the same with density and gradient"),
        velocity: numbers("c", "phase velocity"),
        aboveLight: z.array(z.boolean()),
      })
      .meta({
        description: "phase velocity at each traced point; above c where it is so by two uncertainties",
      }),
  })
  .loose();

export const OUTPUTS = {
  ...NOTEBOOK_OUTPUTS,
  index: indexOfVapour,
  "index-medium": indexOfMedium,
  vapour: vapourDocument.extend({ provenance }),
  forecast: z.object({
    cold: z.boolean().meta({ description: "true for the picture of the cold tube" }),
    lines: z.array(
      z.object({
        line: z.string(),
        wavelength: number("m, vacuum", "centre"),
        halfGap: number("m", "distance at which half the light is left"),
        edgeDeflection: number("rad", "deflection there, positive upward on the blue side"),
      }),
    ),
    fog: fogOfForecast,
    zeroBetweenLines: z
      .number()
      .nullable()
      .meta({ description: "m, vacuum: where the vapour's n - 1 vanishes between the pair" }),
    imageInverted: z.boolean(),
    columnDensity: number("m-2", "at the beam's middle"),
    columnGradient: number("m-3", "at the beam's middle"),
    gasColumnGradient: number("m-3", "at the beam's middle"),
    pixelsPerRadian: number("1/rad", "rows per radian of deflection"),
    wavelengthRange: z.array(z.number()),
    ...FORECAST_PARTS,
    findings: z.array(finding),
    provenance,
  }),
  read: z
    .object({
      orientation: z.enum(["as stored", "mirrored"]),
      columnGradient: uncertain("m-3", "with its sign"),
      columnDensity: uncertain("m-2", "at the beam's middle"),
      lineSeparation: uncertain("m, vacuum", "between the pair").nullable(),
      fRatio: uncertain("1", "strength at the shorter over the longer wavelength").nullable(),
      tilt: uncertain("rad", "positive when the right end of the picture is raised"),
      lineColumns: numbers("pixels, first pixel spans 0 to 1", "columns of the lines on the middle row"),
      verdict: z.object({ code: z.string(), text: z.string() }),
      warnings: z.array(z.unknown()),
      derived: derivedOfReading,
      provenance,
    })
    .loose(),
  diagnose: z.object({
    causes: z.array(
      z.object({
        cause: z.enum(CAUSE_CODES),
        weight: number("1", "share; the weights sum to 1"),
        evidence: z.string(),
        remedy: z.string(),
        where: z
          .object({
            frame: z.enum(["hot", "cold", "lamp"]),
            columns: z.tuple([z.number(), z.number()]),
            rows: z.tuple([z.number(), z.number()]),
          })
          .optional()
          .meta({ description: "the pixels that say so: first to last column and row, counted from 0" }),
        group: z
          .object({ members: z.array(z.enum(CAUSE_CODES)), test: z.string() })
          .optional()
          .meta({ description: "causes that one picture cannot part, with the bench test that does" }),
      }),
    ),
    text: z.string(),
    provenance,
  }),
  sweep: z.object({
    over: z.array(z.string()).meta({ description: "fields gone over" }),
    units: z
      .record(z.string(), z.string())
      .meta({ description: "SI-coherent unit of each outcome, UCUM codes" }),
    rows: z.array(
      z.object({
        at: z.array(z.string()).meta({ description: "text of each field" }),
        values: z.record(z.string(), z.number().nullable()).optional(),
        refused: z.string().optional(),
      }),
    ),
    provenance,
  }),
  tolerance: z.object({
    inputs: z.array(
      z.object({
        name: z.string(),
        value: z.number(),
        standard: z.number().nonnegative(),
        unit: z.string(),
        source: z.string(),
      }),
    ),
    readAt: z
      .object({ line: z.string(), distance: z.number() })
      .nullable()
      .meta({ description: "where the height is read: a line, and m beside it" }),
    draws: z.number().int(),
    seed: z.number().int(),
    outcomes: z.record(z.string(), spread),
    refused: z.number().int(),
    firstRefusal: z.string().nullable(),
    provenance,
  }),
  choose: z.object({
    wishes: z.array(
      z.object({
        name: z.string(),
        outcome: z.string(),
        sense: z.enum(["most", "least"]),
        sentence: z.string(),
      }),
    ),
    bounds: z.array(
      z.object({
        outcome: z.string(),
        sense: z.enum(["at-least", "at-most"]),
        value: z.number(),
        source: z.string(),
      }),
    ),
    forecasts: z.number().int().meta({ description: "forecasts made" }),
    choices: z.array(choice).meta({ description: "best first along the trade-off" }),
    nearest: choice.nullable().meta({ description: "where nothing keeps all limits: the nearest try" }),
    provenance,
  }),
  elements: z.object({
    rows: z.array(
      z.object({
        element: z.string(),
        line: z.string(),
        wavelength: number("m, vacuum", "strongest line of the picture"),
        colour: z.string(),
        shown: z.object({ bottom: number("K", "metal"), top: number("K", "top"), outcome }).nullable(),
        set: z.record(z.string(), z.string()).meta({ description: "fields that put this line on the bench" }),
        hazards: z.array(z.string()).meta({ description: "codes of the cautions that the metal brings" }),
        remark: z.string(),
      }),
    ),
    provenance,
  }),
  runsheet: z.object({
    title: z.string(),
    setup: z.string(),
    program: z.string(),
    verdict,
    cautions: z.array(finding),
    approval: z.string().meta({ description: "stands beside the box that a person ticks by hand" }),
    gather: z.array(z.string()),
    interlocks: z.array(z.string()),
    stopNow: z.array(z.string()),
    alignment: z.array(z.object({ text: z.string(), see: z.string().optional() })),
    heating: z.array(
      z.object({
        time: number("s", "since the heater was switched on"),
        bottom: number("K", "metal"),
        top: number("K", "top"),
        power: number("W", "to set from here on"),
        mark: z.string(),
        see: z.string(),
      }),
    ),
    heat: z
      .object({
        basis: z.enum(["heater", "assumed", "rate"]),
        sentence: z.string(),
        target: z.object({
          bottom: number("K", "metal"),
          top: number("K", "top"),
          ends: number("K", "ends"),
        }),
        ramp: number("K/s", "rate at which the metal is led up"),
        warm: heatCurve,
        settings: z.array(z.object({ from: number("s", "since the start"), power: number("W", "to set") })),
        ready: number("s", "until metal and top stand still").nullable(),
        cool: heatCurve,
        cold: number("s", "after the heater is off, until the metal is below 50 °C").nullable(),
      })
      .meta({ description: "temperatures over the whole day" }),
    log: z.array(z.string()),
    photographs: z.array(z.string()),
    coolDown: z.array(z.string()),
    clearingUp: z.array(z.string()),
    findings: z.array(finding),
    provenance,
  }),
  check: z.object({
    verdict,
    findings: z.array(finding),
    cautions: z.array(finding),
    slits: SLITS,
    provenance,
  }),
  ...REPORT_OUTPUTS,
  ...LIGHT_OUTPUTS,
} as const;

export type OutputName = keyof typeof OUTPUTS;

export const SCHEMA_NAMES: readonly string[] = ["setup", ...Object.keys(OUTPUTS)];

/** The schema of a setup file or of a command's JSON output. */
export function schemaNamed(name: string): JsonObject {
  if (name === "setup") return setupSchema();
  return z.toJSONSchema(OUTPUTS[name as OutputName]) as JsonObject;
}
