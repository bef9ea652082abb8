/** Fields of the wall's second way in: what heats and cools the tube, instead of measured temperatures. */
import { COOLANTS, INSULATIONS, SHELL_COOLINGS } from "./choices.ts";
import type { Field, NumberField, QuantityField } from "./field-kinds.ts";

const GROUP = "vessel.heater";

function quantity(
  name: string,
  label: string,
  unit: string,
  show: string,
  range: readonly [number, number],
  preset: string,
  sentence: string,
): QuantityField {
  const path = `${GROUP}.${name}`;
  return {
    kind: "quantity",
    path,
    group: GROUP,
    label,
    unit,
    show,
    min: range[0],
    max: range[1],
    default: preset,
    sentence,
  };
}

function plain(
  name: string,
  label: string,
  min: number,
  max: number,
  preset: number,
  sentence: string,
): NumberField {
  return {
    kind: "number",
    path: `${GROUP}.${name}`,
    group: GROUP,
    label,
    min,
    max,
    default: preset,
    sentence,
  };
}

/** How one part of the outside is cooled. */
function cooling(part: "top" | "ends", where: string): readonly Field[] {
  const by = `${part}Cooling`;
  const only = (kind: string): { readonly when: NonNullable<Field["when"]> } => ({
    when: { path: `${GROUP}.${by}`, is: [kind] },
  });
  return [
    {
      kind: "choice",
      path: `${GROUP}.${by}`,
      group: GROUP,
      label: `${part} cooled by`,
      options: SHELL_COOLINGS,
      default: "still-air",
      sentence: `What takes the heat from ${where}, beside radiation.`,
    },
    {
      ...plain(
        `${part}FinArea`,
        `${part}: area with fins`,
        1,
        100,
        5,
        `Outer area of ${where} with its fins over the area without them.`,
      ),
      ...only("fins"),
    },
    {
      ...quantity(
        `${part}AirSpeed`,
        `${part}: speed of the air`,
        "m/s",
        "m/s",
        [0.01, 100],
        "2 m/s",
        `Speed of the air blown across ${where}.`,
      ),
      ...only("blown-air"),
    },
    {
      kind: "choice",
      path: `${GROUP}.${part}Coolant`,
      group: GROUP,
      label: `${part}: liquid`,
      options: COOLANTS,
      default: "oil",
      sentence: `Liquid of the loop on ${where}; water must never be able to reach the metal.`,
      ...only("liquid"),
    },
    {
      ...quantity(
        `${part}Flow`,
        `${part}: flow`,
        "kg/s",
        "g/s",
        [1e-5, 10],
        "20 g/s",
        `Mass of liquid through the loop on ${where} in a second.`,
      ),
      ...only("liquid"),
    },
    {
      ...quantity(
        `${part}Inlet`,
        `${part}: inlet`,
        "K",
        "degC",
        [250, 600],
        "25 degC",
        `Temperature at which the liquid enters the loop on ${where}.`,
      ),
      ...only("liquid"),
    },
    {
      ...quantity(
        `${part}Conductance`,
        `${part}: wall to liquid`,
        "W/(m2.K)",
        "W/(m2.K)",
        [0, 1e5],
        "100 W/(m2.K)",
        `Heat from ${where} to the liquid for each square metre of outer wall and kelvin.`,
      ),
      ...only("liquid"),
    },
  ];
}

export const HEATER: readonly Field[] = [
  {
    kind: "quantity",
    path: `${GROUP}.power`,
    group: GROUP,
    label: "heater power",
    unit: "W",
    show: "W",
    min: 0,
    openMin: true,
    max: 1e5,
    sentence:
      "Power of the heater along the bottom, electric or of the flame; given instead of wall temperatures.",
  },
  {
    kind: "choice",
    path: `${GROUP}.kind`,
    group: GROUP,
    label: "heated by",
    options: ["electric", "gas"],
    default: "electric",
    sentence: "Electric heat goes into the wall whole, a flame's in part.",
  },
  {
    ...plain(
      "efficiency",
      "share of the flame",
      0,
      1,
      0.3,
      "Share of the flame's power that enters the wall.",
    ),
    when: { path: `${GROUP}.kind`, is: ["gas"] },
  },
  quantity("wallThickness", "wall", "m", "mm", [1e-4, 0.05], "2 mm", "Thickness of the tube's wall."),
  {
    kind: "number",
    path: `${GROUP}.emissivity`,
    group: GROUP,
    label: "emissivity",
    min: 0,
    max: 1,
    optional: true,
    sentence: "Emissivity of the tube, inside and out; left out, the one of its material.",
  },
  quantity(
    "room",
    "room",
    "K",
    "degC",
    [250, 330],
    "20 degC",
    "Temperature of the room around the tube, where the warm-up starts.",
  ),
  {
    kind: "choice",
    path: `${GROUP}.insulation`,
    group: GROUP,
    label: "lagging below",
    options: INSULATIONS,
    default: "none",
    sentence: "Insulation outside the heated strip.",
  },
  {
    ...quantity(
      "insulationThickness",
      "thickness of lagging",
      "m",
      "mm",
      [1e-3, 0.5],
      "30 mm",
      "Thickness of the insulation outside the heated strip.",
    ),
    when: { path: `${GROUP}.insulation`, is: INSULATIONS.filter((each) => each !== "none") },
  },
  ...cooling("top", "the top of the heated length"),
  ...cooling("ends", "the tube beyond the heated length"),
];
