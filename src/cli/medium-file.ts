/** Files that describe a medium of one's own: JSON with quantities as text. */
import { z } from "zod";
import {
  type Dye,
  dyeMedium,
  glassMedium,
  type Medium,
  oscillatorMedium,
  waterMedium,
} from "../medium/index.ts";
import { parseQuantity, Refusal } from "../quantity/index.ts";
import { parseJsonObject } from "../setup/index.ts";
import { readText } from "./files.ts";

const text = z.string();
const about = { title: text, notes: text.optional() };

const oscillatorFile = z.strictObject({
  ...about,
  density: text,
  oscillators: z.array(z.strictObject({ wavelength: text, strength: z.number(), width: text })).min(1),
});

const dyeFile = z.strictObject({
  ...about,
  pathLength: text,
  absorbance: z.array(z.tuple([text, z.number()])).min(4),
  host: z.union([text, z.number()]).optional(),
  anchor: z.strictObject({ wavelength: text, index: z.number() }).optional(),
  outsideAbsorption: text.optional(),
  dilution: z.number().optional(),
});

/** Free oscillators: density as "1e20 m-3", each with wavelength (vacuum), strength f and width (FWHM, ordinary frequency). */
export async function oscillatorsFrom(path: string): Promise<Medium> {
  const file = await opened(path, oscillatorFile);
  return oscillatorMedium({
    name: file.title,
    density: parseQuantity(file.density, "m-3", `${path}: density`),
    oscillators: file.oscillators.map(({ wavelength, strength, width }, i) => ({
      wavelength: parseQuantity(wavelength, "m", `${path}: oscillators.${i}.wavelength`),
      strength,
      width: 2 * Math.PI * parseQuantity(width, "Hz", `${path}: oscillators.${i}.width`),
    })),
  });
}

/** A dye or coloured glass: a table of [vacuum wavelength, decadic absorbance] over a path, in water, a glass or an index. */
export async function dyeFrom(path: string): Promise<Dye> {
  const file = await opened(path, dyeFile);
  const at = (name: string): string => `${path}: ${name}`;
  return dyeMedium({
    name: file.title,
    pathLength: parseQuantity(file.pathLength, "m", at("pathLength")),
    wavelengths: Float64Array.from(file.absorbance, ([wavelength], i) =>
      parseQuantity(wavelength, "m", at(`absorbance.${i}`)),
    ),
    absorbance: Float64Array.from(file.absorbance, ([, value]) => value),
    ...(file.host === undefined ? {} : { host: hostOf(file.host) }),
    ...(file.anchor === undefined
      ? {}
      : {
          anchor: {
            wavelength: parseQuantity(file.anchor.wavelength, "m", at("anchor.wavelength")),
            index: file.anchor.index,
          },
        }),
    ...(file.outsideAbsorption === undefined
      ? {}
      : { outsideAbsorption: parseQuantity(file.outsideAbsorption, "m-1", at("outsideAbsorption")) }),
    ...(file.dilution === undefined ? {} : { dilution: file.dilution }),
  });
}

function hostOf(host: string | number): number | Medium {
  if (typeof host === "number") return host;
  return host === "water" ? waterMedium() : glassMedium(host);
}

async function opened<T>(path: string, shape: z.ZodType<T>): Promise<T> {
  const parsed = shape.safeParse(parseJsonObject(await readText(path), path));
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  throw new Refusal({
    code: "medium-file",
    field: `${path}: ${issue.path.join(".") || "the file"}`,
    received: issue.message
      .replace(/^Invalid input: /, "")
      .replace("received undefined", "received nothing")
      .toLowerCase(),
    expected: "a medium's file as in examples/media",
  });
}
