/**
 * The setup as it is edited: the file's own form, text with units, addressed by dotted paths. Nothing is interpreted
 * here; the core reads it. Every function leaves its input untouched.
 */
export type SetupValue = string | number | boolean;
export interface SetupText {
  readonly [key: string]: SetupValue | SetupText | undefined;
}

/** The value at a dotted path such as "vessel.bore", or undefined where the file says nothing. */
export function valueAt(setup: SetupText, path: string): SetupValue | undefined {
  let here: SetupValue | SetupText | undefined = setup;
  for (const key of path.split(".")) {
    if (typeof here !== "object") return undefined;
    here = here[key];
  }
  // A table from a file is given as it would be typed.
  if (Array.isArray(here)) return (here as unknown[][]).map((row) => row.join(", ")).join("; ");
  return typeof here === "object" ? undefined : here;
}

/** Whether a group of fields stands in the setup, even an empty one. */
export function hasGroup(setup: SetupText, path: string): boolean {
  let here: SetupValue | SetupText | undefined = setup;
  for (const key of path.split(".")) {
    if (typeof here !== "object") return false;
    here = here[key];
  }
  return typeof here === "object";
}

/** A copy with the value at the path set, or taken out when `value` is undefined. */
export function withValue(setup: SetupText, path: string, value: SetupValue | undefined): SetupText {
  const [key, ...rest] = path.split(".");
  if (key === undefined || key === "") return setup;
  const { [key]: here, ...others } = setup;
  if (rest.length > 0) {
    return { ...setup, [key]: withValue(typeof here === "object" ? here : {}, rest.join("."), value) };
  }
  return value === undefined ? others : { ...setup, [key]: value };
}
