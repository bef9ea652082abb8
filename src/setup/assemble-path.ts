/** Checked values by path, put together as the light path. What is at its default is left out, so that a setup says what it says. */
import type {
  Aside,
  DisperserInput,
  LensInput,
  LensName,
  PathInput,
  SourceInput,
  Table,
} from "../path/api.ts";
import { wallsOf } from "./assemble-walls.ts";
import type { Value } from "./value.ts";

type Values = ReadonlyMap<string, Value>;

/** Every field of the path that applies must be there. */
export function pathOf(values: Values): PathInput {
  const n = (name: string): number => values.get(`path.${name}`) as number;
  return {
    source: sourceOf(values),
    levelSlit: n("levelSlit"),
    plumbSlit: n("plumbSlit"),
    collimatorFocalLength: n("collimatorFocalLength"),
    focalLength: n("focalLength"),
    secondCollimatorFocalLength: n("secondCollimatorFocalLength"),
    cameraFocalLength: n("cameraFocalLength"),
    disperser: disperserOf(values),
    centreWavelength: n("centreWavelength"),
    beamHeight: n("beamHeight"),
    beamSize: n("beamSize"),
    beamWidth: n("beamWidth"),
    stray: n("stray"),
    cameraRoll: n("cameraRoll"),
    levelSlitTilt: n("levelSlitTilt"),
    defocus: n("defocus"),
    inverted: values.get("path.inverted") as boolean,
    rail: {
      lampToCondenser: n("rail.lampToCondenser"),
      condenserToSlit: n("rail.condenserToSlit"),
      collimatorToTube: n("rail.collimatorToTube"),
      tubeToLens: n("rail.tubeToLens"),
      collimatorToDisperser: n("rail.collimatorToDisperser"),
      disperserToCamera: n("rail.disperserToCamera"),
    },
    ...lensOf(values),
    ...settingsOf(values),
  };
}

function sourceOf(values: Values): SourceInput {
  const own = (name: string): Value => values.get(`path.source.${name}`);
  const spectrum = own("spectrum") as Table | undefined;
  const bands = (own("bands") as number | undefined) ?? 0;
  return {
    kind: own("kind") as SourceInput["kind"],
    ...given("temperature", own("temperature")),
    ...(bands === 0 ? {} : { bands }),
    ...(spectrum === undefined ? {} : { spectrum }),
    ...given("radiance", own("radiance")),
    ...given("size", own("size")),
    ...tabled("profile", own("profile")),
  };
}

function given<K extends string>(key: K, value: Value): { readonly [P in K]?: number } {
  return (typeof value === "number" ? { [key]: value } : {}) as { readonly [P in K]?: number };
}

function tabled<K extends string>(key: K, value: Value): { readonly [P in K]?: Table } {
  return (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: Table };
}

/** A number that changes nothing at 0 is left out there. */
function unlessZero<K extends string>(key: K, value: Value): { readonly [P in K]?: number } {
  return value === 0 ? {} : given(key, value);
}

function lensOf(values: Values): { readonly lens?: LensInput } {
  const text = (name: string): string => values.get(`path.${name}`) as string;
  switch (text("lensKind")) {
    case "table":
      return {
        lens: {
          kind: "table",
          table: values.get("path.lensTable") as Table,
          which: text("lensMeasured") as LensName | "all",
        },
      };
    case "singlet":
      return { lens: { kind: "singlet", glass: text("lensGlass") } };
    case "achromat":
      return { lens: { kind: "achromat", crown: text("lensCrown"), flint: text("lensFlint") } };
    default: {
      const shift = values.get("path.lensShift") as number;
      return shift === 0 ? {} : { lens: { kind: "thin", shift } };
    }
  }
}

function settingsOf(values: Values): Partial<PathInput> {
  const own = (name: string): Value => values.get(`path.${name}`);
  const smoke = own("smoke") as number;
  const wedge = own("windowWedge") as number;
  const eachColour = own("losses") === "each-colour";
  return {
    ...(own("collimatorKind") === "mirror" ? { mirrorCollimator: true } : {}),
    ...(own("aperture") === "round" ? { aperture: "round" as const } : {}),
    ...given("sharpAt", own("sharpAt")),
    ...given("lensDiameter", own("lensDiameter")),
    ...given("plumbSlitLength", own("plumbSlitLength")),
    ...given("condenserDiameter", own("condenserDiameter")),
    ...unlessZero("levelSlitOffset", own("levelSlitOffset")),
    ...unlessZero("plumbSlitOffset", own("plumbSlitOffset")),
    ...unlessZero("plumbSlitTilt", own("plumbSlitTilt")),
    ...unlessZero("tubeRoll", own("tubeRoll")),
    ...unlessZero("fog", own("fog")),
    ...unlessZero("otherLosses", own("otherLosses")),
    ...(wedge === 0 ? {} : { windowWedge: wedge }),
    ...(wedge === 0 && !eachColour ? {} : { windowGlass: windowGlass(values) }),
    ...(eachColour ? { eachColour, ...wallsOf(values) } : {}),
    ...lampOf(own),
    ...tabled("disperserPasses", own("disperser.passes")),
    ...lateralOf(own("lateralColour"), own("lateralShift")),
    ...(smoke === 0
      ? {}
      : {
          smoke,
          smokeFlicker: { share: own("smokeFlicker") as number, time: own("smokeTime") as number },
        }),
  };
}

/** Lamp and condenser off the axis count with the lamp's image in the picture, whether it was asked for or not. */
function lampOf(own: (name: string) => Value): Partial<PathInput> {
  const aside = (name: string): Aside | undefined => {
    const [right, up] = [own(`${name}Right`) as number, own(`${name}Up`) as number];
    return right === 0 && up === 0 ? undefined : { right, up };
  };
  const [lampOffset, condenserOffset] = [aside("lamp"), aside("condenser")];
  return {
    ...(own("lampImage") === true || lampOffset !== undefined || condenserOffset !== undefined
      ? { lampImage: true }
      : {}),
    ...(lampOffset === undefined ? {} : { lampOffset }),
    ...(condenserOffset === undefined ? {} : { condenserOffset }),
  };
}

function lateralOf(kind: Value, shift: Value): Pick<PathInput, "lateralColour"> {
  if (kind === "by-lenses") return { lateralColour: { kind: "lenses" } };
  return kind === "stated" && shift !== 0
    ? { lateralColour: { kind: "stated", perWavelength: shift as number } }
    : {};
}

/** Glass whose index stands for the window's: the common crown for borosilicate 3.3, whose index (1.473) is lower and not stored at all colours. */
function windowGlass(values: Values): string {
  const material = values.get("vessel.windowMaterial");
  return material === "fused-silica" || material === "sapphire" ? material : "517642";
}

function disperserOf(values: Values): DisperserInput {
  const own = (name: string): Value => values.get(`path.disperser.${name}`);
  const n = (name: string): number => own(name) as number;
  const turn = unlessZero("turn", own("turn"));
  switch (own("kind")) {
    case "grating":
      return {
        kind: "grating",
        groovesPerMetre: n("grooves"),
        order: n("order"),
        ...unlessZero("incidence", own("incidence")),
        efficiency: n("efficiency"),
        ...given("blaze", own("blaze")),
        ...turn,
      };
    case "prism":
      return {
        kind: "prism",
        glass: own("glass") as string,
        apex: n("apex"),
        leastAt: values.get("path.centreWavelength") as number,
        ...turn,
      };
    case "table":
      return { kind: "table", table: own("table") as Table };
    case "linear":
      return { kind: "linear", wavelengthPerLength: n("wavelengthPerLength") };
    default:
      return {
        kind: "direct-vision",
        crown: own("crown") as string,
        flint: own("flint") as string,
        flintApex: n("flintApex"),
        undeviated: n("undeviated"),
        elements: n("elements") as 3 | 5,
        trains: n("trains") as 1 | 2,
        ...turn,
      };
  }
}
