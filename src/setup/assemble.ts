/** Checked values by path, put together as a setup. */

import type { MediumOverrides } from "../medium/api.ts";
import type { DisperserInput, SourceInput } from "../path/api.ts";
import type { Setup } from "./api.ts";
import type { Value } from "./value.ts";
import { coolingWord, shellOf, withShell } from "./assemble-shell.ts";
import { vesselOf } from "./assemble-vessel.ts";

/** The setup that these values make; every field that applies must be there. */
export function assemble(values: ReadonlyMap<string, Value>): Setup {
  const n = (path: string): number => values.get(path) as number;
  const s = (path: string): string => values.get(path) as string;
  const optional = <K extends string>(key: K, path: string): { readonly [P in K]?: number } => {
    const value = values.get(path);
    return (typeof value === "number" ? { [key]: value } : {}) as { readonly [P in K]?: number };
  };
  const strengths = values.get("medium.strengths") as Readonly<Record<string, number>> | undefined;
  const overrides: MediumOverrides = {
    ...(strengths === undefined ? {} : { oscillatorStrength: strengths }),
    ...optional("gasWidth", "medium.gasWidth"),
    pressureEquation: s("medium.pressureEquation"),
  };
  const shell = values.has("vessel.heater.power") ? shellOf(values) : undefined;
  const setup: Setup = {
    version: 1,
    title: s("title"),
    notes: s("notes"),
    medium: {
      element: s("medium.element"),
      structure: s("medium.structure") as "hyperfine" | "merged",
      overrides,
    },
    vessel: vesselOf(values),
    path: {
      source: {
        kind: s("path.source.kind") as SourceInput["kind"],
        ...optional("temperature", "path.source.temperature"),
      },
      levelSlit: n("path.levelSlit"),
      plumbSlit: n("path.plumbSlit"),
      collimatorFocalLength: n("path.collimatorFocalLength"),
      focalLength: n("path.focalLength"),
      secondCollimatorFocalLength: n("path.secondCollimatorFocalLength"),
      cameraFocalLength: n("path.cameraFocalLength"),
      disperser: disperser(values),
      centreWavelength: n("path.centreWavelength"),
      beamHeight: n("path.beamHeight"),
      beamSize: n("path.beamSize"),
      beamWidth: n("path.beamWidth"),
      stray: n("path.stray"),
      cameraRoll: n("path.cameraRoll"),
      levelSlitTilt: n("path.levelSlitTilt"),
      defocus: n("path.defocus"),
      inverted: values.get("path.inverted") as boolean,
      rail: {
        lampToCondenser: n("path.rail.lampToCondenser"),
        condenserToSlit: n("path.rail.condenserToSlit"),
        collimatorToTube: n("path.rail.collimatorToTube"),
        tubeToLens: n("path.rail.tubeToLens"),
        collimatorToDisperser: n("path.rail.collimatorToDisperser"),
        disperserToCamera: n("path.rail.disperserToCamera"),
      },
    },
    camera: {
      pixel: n("camera.pixel"),
      columns: n("camera.columns"),
      rows: n("camera.rows"),
      exposure: n("camera.exposure"),
      rate: n("camera.rate"),
      fullWell: n("camera.fullWell"),
      readNoise: n("camera.readNoise"),
      blackLevel: n("camera.blackLevel"),
      bitDepth: n("camera.bitDepth") as 8 | 16,
      gamma: n("camera.gamma"),
      seed: n("camera.seed"),
    },
    construction: {
      ...(values.get("vessel.tubeMaterial") === undefined ? {} : { tubeMaterial: s("vessel.tubeMaterial") }),
      cooling:
        shell === undefined
          ? ((values.get("vessel.cooling") as string | undefined) ?? "none")
          : coolingWord(shell.topCooling),
      windowMaterial: s("vessel.windowMaterial"),
      ...optional("windowThickness", "vessel.windowThickness"),
      windowDiameter: (values.get("vessel.windowDiameter") as number | undefined) ?? n("vessel.bore"),
    },
  };
  return shell === undefined ? setup : withShell(setup, shell);
}

function disperser(values: ReadonlyMap<string, Value>): DisperserInput {
  const n = (name: string): number => values.get(`path.disperser.${name}`) as number;
  switch (values.get("path.disperser.kind")) {
    case "grating":
      return { kind: "grating", groovesPerMetre: n("grooves"), order: n("order") };
    case "linear":
      return { kind: "linear", wavelengthPerLength: n("wavelengthPerLength") };
    default:
      return {
        kind: "direct-vision",
        crown: values.get("path.disperser.crown") as string,
        flint: values.get("path.disperser.flint") as string,
        flintApex: n("flintApex"),
        undeviated: n("undeviated"),
        elements: n("elements") as 3 | 5,
        trains: n("trains") as 1 | 2,
      };
  }
}
