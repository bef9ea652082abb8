/**
 * Every field of a setup file in one table: the parser, the published JSON Schema, the forms of the browser bench
 * and the documentation are all made from it, so that they cannot drift apart.
 */

import type { Field } from "./field-kinds.ts";
import { CAMERA } from "./fields-camera.ts";
import { COLOUR } from "./fields-colour.ts";
import { HEATER } from "./fields-heater.ts";
import { MEDIUM } from "./fields-medium.ts";
import { OPTICS } from "./fields-optics.ts";
import { PATH } from "./fields-path.ts";
import { RAIL } from "./fields-rail.ts";
import { OTHER_VESSELS, VESSEL_KIND } from "./fields-other-vessels.ts";
import { PRISM_VESSEL, SOLUTION } from "./fields-prism.ts";
import { SENSOR } from "./fields-sensor.ts";
import { SETTINGS } from "./fields-settings.ts";
import { VESSEL } from "./fields-vessel.ts";

export const FIELDS: readonly Field[] = [
  { kind: "text", path: "title", label: "title", default: "Untitled", sentence: "Name of the setup." },
  {
    kind: "text",
    path: "notes",
    label: "notes",
    default: "",
    sentence: "Whatever should stay with the setup.",
  },
  VESSEL_KIND,
  ...MEDIUM,
  ...SOLUTION,
  ...VESSEL,
  ...OTHER_VESSELS,
  ...PRISM_VESSEL,
  ...HEATER,
  ...PATH,
  ...OPTICS,
  ...COLOUR,
  ...SETTINGS,
  ...RAIL,
  ...CAMERA,
  ...SENSOR,
];

/** The field at a path, or undefined. */
export function fieldAt(path: string): Field | undefined {
  return FIELDS.find((field) => field.path === path);
}
